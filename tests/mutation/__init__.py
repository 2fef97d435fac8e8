"""Does a deliberate error in a formula fail a test? Plants them one by one and sees.

    python -m pip install --editable '.[test,mutation]'
    python -m tests.mutation --jobs 2           every module: about twenty minutes
    python -m tests.mutation sun cooling        some of them
    python -m tests.mutation --every 5          a sample of all

Needs a system that forks (Linux, macOS). It works on a copy of the checkout in a temporary folder.
Each error goes into one module under `spec/derive/formulas/`, in memory, in a process of its own;
then the tests that guard the module (`guards.py`) run until one fails. Those are tests whose
expectation comes from elsewhere: published values, another library, properties, what a docstring
promises. Doctests and tests of sheets and documents, which hold today's numbers, are left out.
Hypothesis draws the same examples each time.

The errors (`mutants.py`, on the operators of cosmic-ray): a number a tenth more and a tenth less, a
whole number under ten one more and one less (above the functions, in tables, only more); + for -,
* for /, * for **, | for &; each comparison with its edge moved and turned round; and for or; True
for False; a condition turned round; a sign dropped; nothing returned; min for max, sine for cosine,
floor for ceiling, all for any; nothing sorted. Docstrings, annotations and what a refusal says are
let be, and roundings that are forgiven keep their size.

What survives is printed. Either it is a gap, and wants a test with an independent expectation, or
it changes nothing that anybody could see: then it goes into `equivalent.toml` with the reason.
"""
