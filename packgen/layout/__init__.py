"""Where lines, rails, legs and bays are; edge pieces, cut list, clashes with pipes and joints."""
