"""Rules on the blocking and the framing under the top."""
