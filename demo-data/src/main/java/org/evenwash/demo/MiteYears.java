package org.evenwash.demo;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * How the mites of one invented colony come and go: they grow while there is brood, and treatments
 * in late summer and in winter take most of them. Rates are invented to look like a season.
 */
final class MiteYears {
    private static final double GROWTH_A_DAY = 0.017;
    private static final double LEAST = 0.0005;
    private static final double MOST = 0.3;
    private static final int SEASON_BEGINS = 4;
    private static final int SEASON_ENDS = 10;

    record Treatment(LocalDate day, int lasts_days, String substance, double takes) {}

    private final boolean south;
    private final LocalDate first;
    private final double[] infestation;
    private final List<Treatment> treatments = new ArrayList<>();
    private final List<LocalDate> season = new ArrayList<>();

    MiteYears(boolean south, LocalDate first, LocalDate last, SplittableRandom random) {
        this.south = south;
        this.first = first;
        int days = (int) (last.toEpochDay() - first.toEpochDay()) + 1;
        infestation = new double[days];
        double growth = GROWTH_A_DAY * (0.7 + 0.6 * random.nextDouble());
        double now = 0.002 + 0.01 * random.nextDouble();
        for (int i = 0; i < days; i++) {
            LocalDate day = first.plusDays(i);
            if (inSeason(day)) {
                season.add(day);
                now *= Math.exp(growth);
            }
            now = treated(day, now, random);
            now = Math.min(MOST, Math.max(LEAST, now));
            infestation[i] = now;
        }
    }

    private boolean inSeason(LocalDate day) {
        int month = month(day);
        return month >= SEASON_BEGINS && month <= SEASON_ENDS;
    }

    /** As it would be called in the north. */
    private int month(LocalDate day) {
        return south ? (day.getMonthValue() + 5) % 12 + 1 : day.getMonthValue();
    }

    private double treated(LocalDate day, double now, SplittableRandom random) {
        boolean summer = month(day) == 8 && day.getDayOfMonth() == 12;
        boolean winter = month(day) == 12 && day.getDayOfMonth() == 20;
        if (!summer && !winter) {
            return now;
        }
        double takes = (summer ? 0.8 : 0.9) + 0.1 * random.nextDouble();
        treatments.add(
                summer
                        ? new Treatment(day, 14, "formic acid", takes)
                        : new Treatment(day, 0, "oxalic acid", takes));
        return now * (1 - takes);
    }

    /** Mites on a hundredth of a hundred bees, 0 to 1. */
    double on(LocalDate day) {
        return infestation[(int) (day.toEpochDay() - first.toEpochDay())];
    }

    List<Treatment> treatments() {
        return treatments;
    }

    List<LocalDate> daysOfSeason() {
        return season;
    }
}
