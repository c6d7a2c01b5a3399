"""The report: one HTML page, for screens and paper."""
