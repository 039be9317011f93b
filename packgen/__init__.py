"""packgen: from a measured room to a printable work pack for a floor on an adjustable-leg grid."""

__version__ = "0.1.0"
