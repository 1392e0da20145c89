"""Whatever file a person hands over, as gaugings: our own JSON, journals, or foreign sheets."""
