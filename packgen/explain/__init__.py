"""Any printed number worked back to the readings, the file and the sources it came from."""
