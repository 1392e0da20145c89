"""What a desk asks an office's archive: surveys, sites, gaugings, review, documents."""
