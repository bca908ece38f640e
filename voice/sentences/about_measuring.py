"""How heads, pieces and yarn are measured, told so that fingers can follow without eyes.

Common practice of the trade, no source, unless said below.
"""

from __future__ import annotations

from pattern.trade.techniques import Technique

PAGES: dict[Technique, tuple[str, ...]] = {
    Technique.ACROSS: (
        "Lay it flat and unstretched. Find the middle by its little hole. Hold the end of the "
        "tape at one edge, lay it over the middle, and pinch it at the other edge. Keep the "
        "pinch, and read or feel the tape there.",
    ),
    Technique.AROUND: (
        "Flatten the edge, fold it in half, and measure from fold to fold without stretching; "
        "twice that is around. Or lay a string along the edge, pinch where it meets, and hold "
        "the string to the tape.",
    ),
    Technique.TAPE_BY_TOUCH: (
        "Mark the tape once, with somebody's help: a pin or a stitch at every five centimetres, "
        "or every two inches, and two at the tens. Then count the marks, and measure the rest "
        "in finger widths.",
    ),
    Technique.GAUGE: (
        "Gauge is how big your stitches are: the number of stitches, and of rounds, in ten "
        "centimetres or four inches. Everybody's differs. I learn yours from what you measure.",
    ),
    Technique.BRIM_WIDTH: (
        "Six centimetres shade a grown face, seven and a half more; five for a child under "
        "nine. Too wide a brim droops over the eyes. A crocheted hat gives shade, and not full "
        "protection from the sun.",
    ),
    Technique.DEPTH: (
        "Measured from the middle of the crown down along the cloth, about a third of the head's "
        "circumference and one centimetre, a small child's a little less: it ends above the "
        "eyebrows. Try it on, if you can.",
    ),
    Technique.STRING: (
        "Cut a string to the head, with a knot at its half and one at its quarter. Laid along the "
        "edge it shows the fit without a tape: say, the string is a finger too long. It is good to "
        "about a centimetre.",
    ),
    Technique.OWN_HAND: (
        "Lay your finger and your hand on a tape once, and tell me: my finger is eighteen "
        "millimetres. Then say lengths in fingers, on this piece and the next; each is good to "
        "half a finger.",
    ),
    Technique.PLATE: (
        "Lay the crown on a plate or a jar whose width you know, and tell me that width when the "
        "edges meet. A bank card is eight and a half centimetres long. It is good for the crown, "
        "to half a centimetre.",
    ),
    Technique.FOLDING: (
        "Fold the edge in half, and once more: a quarter of the way around lies from fold to fold. "
        "Laid to the quarter knot of a string it shows the fit; it is good for soft cloth that "
        "will not lie round.",
    ),
    Technique.HEAD: (
        "Lay the tape around the head where the hat will sit, above the ears and the eyebrows. "
        "Snug, but one finger fits under it. Hold the end with one thumb, and feel or read where "
        "the tape meets it.",
        "Without a tape, lay a string around the head, knot it where it meets, and lay it along a "
        "ruler. For a gift take the usual: say skip.",
    ),
    Technique.YARN_CLASS: (
        "The class stands on the ball band, a number in a small skein. Without a band, wind the "
        "yarn around a pencil, side by side, one inch wide. About thirteen turns are class three, "
        "eleven class four, eight class five.",
        "A sun hat is mostly made of cotton of class three or four, a warm one of wool of class "
        "four or five. The thicker the yarn, the fewer rounds.",
    ),
    Technique.TRY_ON: (
        "Pull the loop on the hook as long as your hand, and put a marker through it, so that "
        "nothing runs back. Try it on, say how it sits, then draw the loop tight again.",
    ),
}
"""Turns to the inch: within the Craft Yarn Council's wraps per inch, read as a copy. Widths of
brims: cancer councils of Australia and New Zealand."""
