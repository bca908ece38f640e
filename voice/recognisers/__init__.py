"""The recognisers: a module for each engine, one for their agreement, one for recorded sound."""
