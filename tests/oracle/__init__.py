"""A second opinion: the season reckoned again, naively and apart from the product, to compare figures."""
