package org.evenwash.controller.process;

/** Which wash of the same bees this is; a blank is spirit shaken without bees. */
public enum Pass {
    FIRST,
    SECOND,
    BLANK
}
