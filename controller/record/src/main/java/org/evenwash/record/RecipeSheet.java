package org.evenwash.record;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * A recipe as it travels: bouts of agitation with rests, and the tolerances it is judged by. The
 * hash covers all that the machine obeys, so that two benches running "recipe 3" can be shown to
 * run the same thing, whatever it is called.
 *
 * @param recipeId short and stable, 1 to 48 characters of {@code a-z 0-9 -}
 * @param version counts up from 1 with each change
 * @param bouts in order; the whole list is run {@code repeats} times
 * @param tolerances how far a cycle may stray and still conform
 * @param longestHold_s a hold longer than this ends the cycle as STOPPED
 * @param hash SHA-256 of the canonical text of bouts, repeats, tolerances and longest hold
 */
public record RecipeSheet(
        String recipeId,
        String name,
        int version,
        List<Bout> bouts,
        int repeats,
        Tolerances tolerances,
        double longestHold_s,
        String hash) {

    private static final Pattern RECIPE_ID = Pattern.compile("[a-z0-9-]{1,48}");

    /**
     * One bout and the rest after it.
     *
     * @param agitation_s from the first drive command to its removal, both ramps included
     * @param ramp_s length of each ramp
     * @param reverse turn the other way round in this bout
     */
    public record Bout(
            double agitation_s, double speed_rpm, double ramp_s, double rest_s, boolean reverse) {
        public Bout {
            Check.range("agitation_s", agitation_s, 0.1, 3_600);
            Check.range("speed_rpm", speed_rpm, 1, 3_000);
            Check.range("ramp_s", ramp_s, 0, agitation_s / 2);
            Check.range("rest_s", rest_s, 0, 3_600);
        }
    }

    /**
     * @param agitation_s allowed difference of each bout's agitation time
     * @param rest_s allowed excess of each rest; a rest is never shorter than planned
     * @param speed_fraction allowed difference from the speed asked for, as a fraction of it
     * @param timeInBand_fraction least part of the agitation between the ramps that must be within
     *     {@code speed_fraction}
     */
    public record Tolerances(
            double agitation_s, double rest_s, double speed_fraction, double timeInBand_fraction) {
        public Tolerances {
            Check.range("agitation_s", agitation_s, 0, 3_600);
            Check.range("rest_s", rest_s, 0, 3_600);
            Check.range("speed_fraction", speed_fraction, 0, 1);
            Check.range("timeInBand_fraction", timeInBand_fraction, 0, 1);
        }
    }

    public RecipeSheet {
        if (!RECIPE_ID.matcher(Check.present("recipeId", recipeId)).matches()) {
            throw new ContractViolation(
                    "recipeId", "needs 1 to 48 of the characters a-z 0-9 and -");
        }
        Check.text("name", name);
        Check.atLeast("version", version, 1);
        bouts = Check.list("bouts", bouts, 200);
        if (bouts.isEmpty()) {
            throw new ContractViolation("bouts", "is empty: a recipe has at least one bout");
        }
        Check.range("repeats", repeats, 1, 200);
        Check.present("tolerances", tolerances);
        Check.range("longestHold_s", longestHold_s, 0, 3_600);
        if (!hashOf(bouts, repeats, tolerances, longestHold_s).equals(Check.sha256("hash", hash))) {
            throw new ContractViolation("hash", "does not belong to this recipe's content");
        }
    }

    /** A sheet with its hash computed. */
    public static RecipeSheet of(
            String recipeId,
            String name,
            int version,
            List<Bout> bouts,
            int repeats,
            Tolerances tolerances,
            double longestHold_s) {
        String hash = hashOf(bouts, repeats, tolerances, longestHold_s);
        return new RecipeSheet(
                recipeId, name, version, bouts, repeats, tolerances, longestHold_s, hash);
    }

    /** Agitation of all bouts and repeats, s. */
    public double totalAgitation_s() {
        return repeats * bouts.stream().mapToDouble(Bout::agitation_s).sum();
    }

    /** Agitation and rests of all bouts and repeats, holds excluded, s. */
    public double total_s() {
        return totalAgitation_s() + repeats * bouts.stream().mapToDouble(Bout::rest_s).sum();
    }

    /** The canonical text has one line per fact: three decimals each, no locale, UTF-8. */
    private static String hashOf(
            List<Bout> bouts, int repeats, Tolerances t, double longestHold_s) {
        StringBuilder text = new StringBuilder("evenwash-recipe 1\n");
        for (Bout b : bouts) {
            line(text, "bout", b.agitation_s(), b.speed_rpm(), b.ramp_s(), b.rest_s());
            text.append(b.reverse() ? "reverse\n" : "");
        }
        line(text, "repeats", repeats);
        line(
                text,
                "tolerances",
                t.agitation_s(),
                t.rest_s(),
                t.speed_fraction(),
                t.timeInBand_fraction());
        line(text, "longestHold", longestHold_s);
        return Messages.sha256(text.toString().getBytes(StandardCharsets.UTF_8));
    }

    private static void line(StringBuilder text, String fact, double... values) {
        text.append(fact);
        for (double value : values) {
            text.append(' ');
            decimal(text, value);
        }
        text.append('\n');
    }

    /** As {@code %.3f}. Every record that is read is checked so, hence the shorter way where it gives the same. */
    private static void decimal(StringBuilder text, double value) {
        long thousandths = Math.round(value * 1_000);
        if (thousandths / 1_000.0 != value || thousandths >= 1_000_000_000 || isNegative(value)) {
            text.append(String.format(Locale.ROOT, "%.3f", value));
            return;
        }
        long whole = thousandths / 1_000;
        long rest = thousandths % 1_000;
        text.append(whole).append(rest < 10 ? ".00" : rest < 100 ? ".0" : ".").append(rest);
    }

    /** Also true of -0.0. */
    private static boolean isNegative(double value) {
        return Double.compare(value, 0.0) < 0;
    }
}
