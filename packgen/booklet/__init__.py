"""The paper: editions, a module a sheet, drawings, HTML, PDF, tables."""
