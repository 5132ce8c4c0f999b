package org.evenwash.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;

class RecipeSheetTest {
    private static final int RECIPES = 20_000;

    /** Whole numbers, short and long fractions, and what lies just beside them. */
    private static double number(Random random, double least, double most) {
        double any = least + random.nextDouble() * (most - least);
        double chosen =
                switch (random.nextInt(5)) {
                    case 0 -> Math.rint(any);
                    case 1 -> Math.rint(any * 1_000) / 1_000;
                    case 2 -> Math.rint(any * 1_000) / 1_000 + 0.0005;
                    case 3 -> Math.nextUp(Math.rint(any * 100) / 100);
                    default -> any;
                };
        return Math.min(most, Math.max(least, chosen));
    }

    private static String line(String fact, double... values) {
        StringBuilder line = new StringBuilder(fact);
        for (double value : values) {
            line.append(String.format(Locale.ROOT, " %.3f", value));
        }
        return line.append('\n').toString();
    }

    @Test
    void hash_isThatOfTheCanonicalText() {
        Random random = new Random(7);
        for (int i = 0; i < RECIPES; i++) {
            double agitation_s = number(random, 0.1, 3_600);
            RecipeSheet.Bout bout =
                    new RecipeSheet.Bout(
                            agitation_s,
                            number(random, 1, 3_000),
                            number(random, 0, agitation_s / 2),
                            random.nextBoolean() ? -0.0 : number(random, 0, 3_600),
                            random.nextBoolean());
            RecipeSheet.Tolerances tolerances =
                    new RecipeSheet.Tolerances(
                            number(random, 0, 3_600),
                            number(random, 0, 3_600),
                            number(random, 0, 1),
                            number(random, 0, 1));
            double longestHold_s = number(random, 0, 3_600);
            String canonical =
                    "evenwash-recipe 1\n"
                            + line(
                                    "bout",
                                    bout.agitation_s(),
                                    bout.speed_rpm(),
                                    bout.ramp_s(),
                                    bout.rest_s())
                            + (bout.reverse() ? "reverse\n" : "")
                            + line("repeats", 3)
                            + line(
                                    "tolerances",
                                    tolerances.agitation_s(),
                                    tolerances.rest_s(),
                                    tolerances.speed_fraction(),
                                    tolerances.timeInBand_fraction())
                            + line("longestHold", longestHold_s);
            assertThat(
                            RecipeSheet.of("r", "r", 1, List.of(bout), 3, tolerances, longestHold_s)
                                    .hash())
                    .as(canonical)
                    .isEqualTo(Messages.sha256(canonical.getBytes(StandardCharsets.UTF_8)));
        }
    }
}
