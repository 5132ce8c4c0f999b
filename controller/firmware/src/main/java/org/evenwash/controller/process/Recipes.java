package org.evenwash.controller.process;

import java.time.Duration;
import java.util.List;

/**
 * The recipes that ship. None is claimed best: published agitation times run from 20 s to 30 min,
 * and a second wash tells what a recipe leaves behind on the user's own bench.
 */
public final class Recipes {
    private Recipes() {}

    /** About two minutes in bouts with rests between: common practice, no source. */
    public static final Recipe TWO_MINUTES_IN_THREE_BOUTS =
            new Recipe(
                    "two-minutes-three-bouts",
                    "Two minutes in three bouts",
                    1,
                    List.of(bout(40, 180, 30), bout(40, 180, 30), bout(40, 180, 0)),
                    1,
                    Tolerances.USUAL,
                    Duration.ofMinutes(5));

    /**
     * 20 s without a rest: the shaking time of Fries et al. 1991 as given by the COLOSS BEEBOOK
     * (Dietemann et al. 2013, J. Apic. Res. 52(1), doi 10.3896/IBRA.1.52.1.09). The source shakes by
     * hand and states no speed; the speed is ours.
     */
    public static final Recipe TWENTY_SECONDS =
            new Recipe(
                    "twenty-seconds",
                    "20 s continuous (Fries et al. 1991)",
                    1,
                    List.of(bout(20, 180, 0)),
                    1,
                    Tolerances.USUAL,
                    Duration.ofMinutes(2));

    /** For a second wash in fresh spirit: as the first, turning both ways. No source. */
    public static final Recipe SECOND_WASH =
            new Recipe(
                    "second-wash",
                    "Second wash, both directions",
                    1,
                    List.of(bout(30, 180, 15), reversed(bout(30, 180, 15))),
                    2,
                    Tolerances.USUAL,
                    Duration.ofMinutes(5));

    public static final List<Recipe> SHIPPED =
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
