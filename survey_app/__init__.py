"""A survey of the water heaters of a planned community: records, risk, decisions."""
