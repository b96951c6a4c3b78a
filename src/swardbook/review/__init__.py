"""Is it better or worse? Same season, same place, against the honest strip."""
