"""Constants of nature and of units that several formulas share."""

GRAVITY = 9.80665
"""[m/s²] Standard acceleration of free fall. NIST SP 330."""

R_IP = 0.1761101838
"""[m²K/W] One ft²·h·°F/Btu. NIST SP 811 appendix B."""

INCH = 0.0254
"""[m] NIST SP 811 appendix B, exact."""

POUND = 0.45359237
"""[kg] NIST SP 811 appendix B, exact."""

GALLON = 231 * INCH**3
"""[m³] NIST SP 811 appendix B, exact."""
