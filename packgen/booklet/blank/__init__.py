"""Survey sheets: blank forms to measure on, before there is a plan."""
