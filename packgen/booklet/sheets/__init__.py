"""A module a sheet: each turns the plan into finished strings and drawings for its template."""
