"""The ground floor: the nouns that every room speaks, and nothing that reads, computes a price or prints."""
