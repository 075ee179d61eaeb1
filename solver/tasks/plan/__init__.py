"""Plan nights: from forecast and stock to preparation, order, and what spoils."""
