"""Help on screen: the panel of topics, and the way around the sample."""
