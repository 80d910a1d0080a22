"""Every sentence of the product, and nothing but sentences."""
