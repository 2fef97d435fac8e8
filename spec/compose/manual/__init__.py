"""The manual of all rules, decisions and figures, made from the code and the schemas."""
