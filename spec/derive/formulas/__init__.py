"""Formulas by topic: numbers in and out, in SI, with temperatures in °C and shares from 0 to 1.

They know no job. Each names its source and the range in which it holds; outside it raises
`range.OutOfRange` (or its kind `NotCovered`), whose text is a sentence for the reader.
"""
