package org.evenwash.record;

import java.util.List;
import org.evenwash.record.RecipeSheet.Bout;
import org.evenwash.record.RecipeSheet.Tolerances;

/**
 * The recipes that ship with bench and logger. None is claimed best: published agitation times run
 * from 20 s to 30 min, and a second wash tells what a recipe leaves behind on the user's own bench.
 */
public final class ShippedRecipes {
    /** Common practice has no figures for these: chosen so that a sound bench meets them. */
    public static final Tolerances USUAL = new Tolerances(0.2, 2, 0.10, 0.90);

    /** About two minutes in bouts with rests between: common practice, no source. */
    public static final RecipeSheet TWO_MINUTES_IN_THREE_BOUTS =
            RecipeSheet.of(
                    "two-minutes-three-bouts",
                    "Two minutes in three bouts",
                    1,
                    List.of(bout(40, 30, false), bout(40, 30, false), bout(40, 0, false)),
                    1,
                    USUAL,
                    300);

    /**
     * 20 s without a rest: the shaking time of Fries et al. 1991 as given by the COLOSS BEEBOOK
     * (Dietemann et al. 2013, J. Apic. Res. 52(1), doi 10.3896/IBRA.1.52.1.09). The source shakes by
     * hand and states no speed; the speed is ours.
     */
    public static final RecipeSheet TWENTY_SECONDS =
            RecipeSheet.of(
                    "twenty-seconds",
                    "20 s continuous (Fries et al. 1991)",
                    1,
                    List.of(bout(20, 0, false)),
                    1,
                    USUAL,
                    120);

    /** For a second wash in fresh spirit: as the first, turning both ways. No source. */
    public static final RecipeSheet SECOND_WASH =
            RecipeSheet.of(
                    "second-wash",
                    "Second wash, both directions",
                    1,
                    List.of(bout(30, 15, false), bout(30, 15, true)),
                    2,
                    USUAL,
                    300);

    public static final List<RecipeSheet> ALL =
            List.of(TWO_MINUTES_IN_THREE_BOUTS, TWENTY_SECONDS, SECOND_WASH);

    private ShippedRecipes() {}

    private static Bout bout(double agitation_s, double rest_s, boolean reverse) {
        return new Bout(agitation_s, 180, 1.5, rest_s, reverse);
    }
}
