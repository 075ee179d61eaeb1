"""Plan a run of nights on whole numbers: serves of each drink, and what is got ready when."""
