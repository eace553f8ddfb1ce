"""The open job and everything a person may ask of it; knows no widgets."""
