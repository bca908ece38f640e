"""A scenario for rehearsals: thick yarn for a small head, so that there are few rounds."""

SCENARIO = """
[hands]
width_mm = 22.0
height_mm = 23.0
ring_mm = 10.0

[answers]
unit = "centimetres"
head_mm = "forty two"
yarn = "super bulky"
hook_mm = "fifteen"
depth_mm = "twelve and a half"
brim_mm = "no brim"

[[say]]
round = 3
words = ["across eleven", "no eleven and a half", "where am i"]
"""


SHORT = SCENARIO.partition("depth_mm")[0] + 'stitch = "begin"\n'
"""The interview is cut short."""

ENDS = f'{SHORT}\n[[say]]\nround = 2\nwords = ["finish now"]\n'
"""The hat is cut short as well."""
