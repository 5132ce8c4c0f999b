package org.evenwash.record;

import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * A recipe as it travels: bouts of agitation with rests, and the tolerances it is judged by. The
 * hash covers all that the machine obeys, so that two benches running "recipe 3" can be shown to
 * run the same thing.
 *
 * @param recipeId 1 to 64 characters of {@code a-z 0-9 . -}
 * @param version counts up from 1 with each change
 * @param bouts in order; the whole list is run {@code repeats} times
 * @param speedTolerance_rpm how far from the asked speed still counts as within tolerance
 * @param agitationTolerance_s how far total agitation may lie from the plan
 * @param withinToleranceShare the least share of agitation time within the speed tolerance, 0 to 1
 * @param longestHold_s a hold longer than this ends the cycle as STOPPED
 * @param hash SHA-256 of the canonical text of all the above but the name, see {@link #hashOf}
 */
public record RecipeSheet(
        String recipeId,
        String name,
        int version,
        List<Bout> bouts,
        int repeats,
        double speedTolerance_rpm,
        double agitationTolerance_s,
        double withinToleranceShare,
        double longestHold_s,
        String hash) {

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

    public RecipeSheet {
        if (!Check.present("recipeId", recipeId).matches("[a-z0-9.-]{1,64}")) {
            throw new ContractViolation(
                    "recipeId", "needs 1 to 64 of the characters a-z 0-9 . and -");
        }
        Check.text("name", name);
        Check.atLeast("version", version, 1);
        bouts = Check.list("bouts", bouts, 200);
        if (bouts.isEmpty()) {
            throw new ContractViolation("bouts", "is empty: a recipe has at least one bout");
        }
        Check.range("repeats", repeats, 1, 200);
        Check.range("speedTolerance_rpm", speedTolerance_rpm, 0, 3_000);
        Check.range("agitationTolerance_s", agitationTolerance_s, 0, 3_600);
        Check.range("withinToleranceShare", withinToleranceShare, 0, 1);
        Check.range("longestHold_s", longestHold_s, 0, 3_600);
        String computed =
                hashOf(
                        recipeId,
                        version,
                        bouts,
                        repeats,
                        speedTolerance_rpm,
                        agitationTolerance_s,
                        withinToleranceShare,
                        longestHold_s);
        if (!computed.equals(Check.sha256("hash", hash))) {
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
            double speedTolerance_rpm,
            double agitationTolerance_s,
            double withinToleranceShare,
            double longestHold_s) {
        return new RecipeSheet(
                recipeId,
                name,
                version,
                bouts,
                repeats,
                speedTolerance_rpm,
                agitationTolerance_s,
                withinToleranceShare,
                longestHold_s,
                hashOf(
                        recipeId,
                        version,
                        bouts,
                        repeats,
                        speedTolerance_rpm,
                        agitationTolerance_s,
                        withinToleranceShare,
                        longestHold_s));
    }

    /** Agitation of all bouts and repeats, s. */
    public double totalAgitation_s() {
        return repeats * bouts.stream().mapToDouble(Bout::agitation_s).sum();
    }

    /**
     * The canonical text: id and version, then one line for repeats and tolerances and one for each
     * bout, numbers in Java's shortest round-trip form.
     */
    static String hashOf(
            String recipeId,
            int version,
            List<Bout> bouts,
            int repeats,
            double speedTolerance_rpm,
            double agitationTolerance_s,
            double withinToleranceShare,
            double longestHold_s) {
        StringBuilder text = new StringBuilder();
        text.append(recipeId).append(' ').append(version).append('\n');
        text.append(repeats).append(' ').append(speedTolerance_rpm);
        text.append(' ').append(agitationTolerance_s).append(' ').append(withinToleranceShare);
        text.append(' ').append(longestHold_s).append('\n');
        for (Bout bout : bouts) {
            text.append(bout.agitation_s()).append(' ').append(bout.speed_rpm()).append(' ');
            text.append(bout.ramp_s()).append(' ').append(bout.rest_s()).append(' ');
            text.append(bout.reverse()).append('\n');
        }
        return Messages.sha256(text.toString().getBytes(StandardCharsets.UTF_8));
    }
}
