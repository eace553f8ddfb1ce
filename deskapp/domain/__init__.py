"""What a person told us: frozen records of a job, and the results worked out from them."""
