"""The recognisers: one module an engine, one for their agreement, one for recorded sound."""
