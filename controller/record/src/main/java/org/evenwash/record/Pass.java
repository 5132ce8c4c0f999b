package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonProperty;

/** Which agitation of a sample this is. */
public enum Pass {
    @JsonProperty("first")
    FIRST,
    /** The same bees again in fresh spirit, to learn what the first wash left behind. */
    @JsonProperty("second")
    SECOND,
    /** Spirit alone, to see what it carries over from earlier washes. */
    @JsonProperty("blank")
    BLANK
}
