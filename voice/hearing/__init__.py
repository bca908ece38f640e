"""From an utterance to a verdict: act, ask, or stay silent."""
