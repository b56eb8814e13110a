"""What the findings support: signs, stance test, systems, patterns, urgent findings, sentences."""
