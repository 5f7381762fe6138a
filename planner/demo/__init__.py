"""The Quayside Weaving Room, an invented studio that shows Warproom at work. Nobody in it is a real person."""
