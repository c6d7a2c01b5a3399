"""What a grower asks, each question one function with a typed answer."""
