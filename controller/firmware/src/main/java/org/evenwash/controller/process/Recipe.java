package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A named, versioned list of bouts. Building one never fails, so that {@link #mistakes} can tell
 * all that is wrong at once; a bench runs only a recipe without mistakes.
 *
 * @param id short and stable, {@code [a-z0-9-]{1,48}}
 * @param name as people say it
 * @param version counts up from 1 with every change
 * @param repeats how often the whole list of bouts is run, 1 to 100
 * @param longestHold a hold longer than this ends the cycle in STOPPED
 */
public record Recipe(
        String id,
        String name,
        int version,
        List<Bout> bouts,
        int repeats,
        Tolerances tolerances,
        Duration longestHold) {

    /** Nothing runs for ever: agitation and rests together, holds excluded. */
    public static final Duration LONGEST_TOTAL = Duration.ofHours(2);

    public static final int MOST_BOUTS = 200;
    public static final int MOST_REPEATS = 100;
    private static final Duration LONGEST_RAMP = Duration.ofSeconds(10);

    public Recipe {
        bouts = List.copyOf(bouts);
    }

    /** Bouts in all, repeats counted. */
    public int boutCount() {
        return bouts.size() * repeats;
    }

    /** The bout with this number, 0 to {@code boutCount() - 1}. */
    public Bout bout(int index) {
        return bouts.get(index % bouts.size());
    }

    /** Planned agitation of all bouts. */
    public Duration totalAgitation() {
        return sum(true, false);
    }

    /** Planned agitation and rests, holds excluded. */
    public Duration total() {
        return sum(true, true);
    }

    private Duration sum(boolean agitation, boolean rest) {
        Duration once = Duration.ZERO;
        for (Bout bout : bouts) {
            once = agitation ? once.plus(bout.agitation()) : once;
            once = rest ? once.plus(bout.rest()) : once;
        }
        return once.multipliedBy(repeats);
    }

    /**
     * Everything that is wrong with this recipe, each in a sentence that says where and what to do;
     * empty when it may run.
     *
     * @param fastest_rpm the fastest this bench may turn
     */
    public List<String> mistakes(double fastest_rpm) {
        List<String> found = new ArrayList<>();
        if (id == null || !id.matches("[a-z0-9-]{1,48}")) {
            found.add("id \"" + id + "\": use 1 to 48 of a-z, 0-9 and -");
        }
        if (name == null || name.isBlank() || name.length() > 80) {
            found.add("name: give one of 1 to 80 characters");
        }
        if (version < 1) {
            found.add("version " + version + ": count from 1");
        }
        if (repeats < 1 || repeats > MOST_REPEATS) {
            found.add("repeats " + repeats + ": allowed are 1 to " + MOST_REPEATS);
        }
        if (bouts.isEmpty()) {
            found.add("bouts: give at least one");
        }
        if (repeats >= 1 && (long) bouts.size() * repeats > MOST_BOUTS) {
            found.add("bouts: at most " + MOST_BOUTS + " with repeats counted");
        }
        for (int i = 0; i < bouts.size(); i++) {
            check(bouts.get(i), "bout " + (i + 1) + ": ", fastest_rpm, found);
        }
        check(tolerances, found);
        if (longestHold == null || longestHold.isNegative() || isOver(longestHold, 60)) {
            found.add("longest hold: 0 to 60 minutes");
        }
        if (found.isEmpty() && total().compareTo(LONGEST_TOTAL) > 0) {
            found.add(
                    "total time %d s: at most %d s"
                            .formatted(total().toSeconds(), LONGEST_TOTAL.toSeconds()));
        }
        return List.copyOf(found);
    }

    private static void check(Bout bout, String where, double fastest_rpm, List<String> found) {
        boolean agitates = bout.agitation() != null && positive(bout.agitation());
        if (!agitates || isOver(bout.agitation(), 60)) {
            found.add(where + "agitation: more than 0 s, at most 60 minutes");
        }
        // Written so that NaN is refused.
        if (!(bout.speed_rpm() >= 10 && bout.speed_rpm() <= fastest_rpm)) {
            found.add(
                    String.format(
                            Locale.ROOT,
                            "%sspeed %.1f rpm: this bench allows 10 to %.0f rpm",
                            where,
                            bout.speed_rpm(),
                            fastest_rpm));
        }
        boolean rampInRange =
                bout.ramp() != null
                        && !bout.ramp().isNegative()
                        && bout.ramp().compareTo(LONGEST_RAMP) <= 0;
        if (!rampInRange) {
            found.add(where + "ramp: 0 to 10 s");
        } else if (agitates && bout.ramp().multipliedBy(2).compareTo(bout.agitation()) > 0) {
            found.add(where + "ramp: up and down together are longer than the agitation");
        }
        if (bout.rest() == null || bout.rest().isNegative() || isOver(bout.rest(), 60)) {
            found.add(where + "rest: 0 to 60 minutes");
        }
    }

    private static void check(Tolerances t, List<String> found) {
        if (t == null) {
            found.add("tolerances: missing");
            return;
        }
        if (t.agitation() == null || !positive(t.agitation())) {
            found.add("tolerance of agitation: more than 0 s");
        }
        if (t.rest() == null || !positive(t.rest())) {
            found.add("tolerance of rest: more than 0 s");
        }
        if (!(t.speed_fraction() >= 0.01 && t.speed_fraction() <= 0.5)) {
            found.add("tolerance of speed: 0.01 to 0.5 of the speed");
        }
        if (!(t.timeInBand_fraction() >= 0 && t.timeInBand_fraction() <= 1)) {
            found.add("least time in band: 0 to 1");
        }
    }

    private static boolean positive(Duration d) {
        return !d.isNegative() && !d.isZero();
    }

    private static boolean isOver(Duration d, int minutes) {
        return d.compareTo(Duration.ofMinutes(minutes)) > 0;
    }
}
