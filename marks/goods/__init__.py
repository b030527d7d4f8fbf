"""The dangerous goods list: entries.csv in columns of the project's own, their sources in sources.md."""
