package org.evenwash.controller.process;

import java.time.Duration;
import java.util.List;

/** Recipes to try the machine with, in its own words: it knows nothing of those that ship. */
public final class Recipes {
    private Recipes() {}

    public static final Recipe TWO_MINUTES_IN_THREE_BOUTS =
            new Recipe(
                    "two-minutes-three-bouts",
                    "Two minutes in three bouts",
                    1,
                    List.of(bout(40, 180, 30), bout(40, 180, 30), bout(40, 180, 0)),
                    1,
                    Tolerances.USUAL,
                    Duration.ofMinutes(5));

    public static final Recipe TWENTY_SECONDS =
            new Recipe(
                    "twenty-seconds",
                    "20 s continuous",
                    1,
                    List.of(bout(20, 180, 0)),
                    1,
                    Tolerances.USUAL,
                    Duration.ofMinutes(2));

    public static final Recipe SECOND_WASH =
            new Recipe(
                    "second-wash",
                    "Second wash, both directions",
                    1,
                    List.of(bout(30, 180, 15), reversed(bout(30, 180, 15))),
                    2,
                    Tolerances.USUAL,
                    Duration.ofMinutes(5));

    public static final List<Recipe> ALL =
            List.of(TWO_MINUTES_IN_THREE_BOUTS, TWENTY_SECONDS, SECOND_WASH);

    private static Bout bout(int agitation_s, double speed_rpm, int rest_s) {
        return new Bout(
                Duration.ofSeconds(agitation_s),
                speed_rpm,
                Duration.ofMillis(1500),
                Duration.ofSeconds(rest_s),
                false);
    }

    private static Bout reversed(Bout b) {
        return new Bout(b.agitation(), b.speed_rpm(), b.ramp(), b.rest(), true);
    }
}
