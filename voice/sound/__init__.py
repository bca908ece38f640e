"""The microphone, the loudspeaker, and the detection of utterances."""
