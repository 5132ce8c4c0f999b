package org.evenwash.logger.web;

import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;

/** Half a year of washes put into a scene: two treated alike, three untreated, one of them growing. */
final class OverTimeScene {
    final Scene scene;
    final Colony growing;
    final Colony treated;
    final UUID treatment;
    final UUID unfinished;

    /** Washed twice on one day: together below the threshold, each alone undecided. */
    final Colony twice;

    final UUID oneOfTwo;

    /** Undecided by an estimate of its bees. */
    final UUID estimated;

    /** Undecided, and more bees would settle it. */
    final UUID open;

    private final Workplace place;

    private OverTimeScene(Scene scene) {
        this.scene = scene;
        this.place = scene.place;
        LocalDate today = LocalDate.of(2031, 5, 20);
        place.standards().chooseThreshold("university-of-florida", null, By.nobody());
        growing = colony("Elm");
        series(growing, today.minusDays(4), 1, 2, 2, 4, 5, 8);
        treated = colony("Fir");
        Colony alike = colony("Gorse");
        series(treated, today.minusDays(62), 12, 16, 22, 30);
        series(alike, today.minusDays(62), 20, 26);
        treatment = treat(treated, today.minusDays(60), today.minusDays(39));
        treat(alike, today.minusDays(60), today.minusDays(39));
        series(treated, today.minusDays(6), 1, 2, 2);
        series(alike, today.minusDays(25), 2);
        for (String name : new String[] {"Hazel", "Ivy"}) {
            Colony untreated = colony(name);
            series(untreated, today.minusDays(61), 24);
            series(untreated, today.minusDays(28), 30);
            series(untreated, today.minusYears(2), 3, 4, 4, 6, 7, 9);
        }
        twice = colony("Juniper");
        oneOfTwo = washed(twice, today.minusDays(2), 4, 300, BeeMeasure.COUNTED, null);
        washed(twice, today.minusDays(2), 5, 350, BeeMeasure.COUNTED, null);
        estimated = washed(colony("Larch"), today, 3, 300, BeeMeasure.FILL_LINE, 0.126);
        open = washed(colony("Maple"), today, 4, 300, BeeMeasure.COUNTED, null);
        unfinished = treat(growing, today.minusDays(3), null);
        place.yard().requeen(treated.id(), today.minusDays(1), "marked blue", By.nobody());
        place.yard().split(treated.id(), growing.id(), today.minusDays(140), By.nobody());
    }

    static OverTimeScene in(Scene scene) {
        return new OverTimeScene(scene);
    }

    private Colony colony(String name) {
        return place.yard().addColony(scene.alder.apiaryId(), name, By.nobody());
    }

    /** Fortnightly, the last on {@code last}; 300 bees each. */
    private void series(Colony colony, LocalDate last, int... mites) {
        for (int i = 0; i < mites.length; i++) {
            LocalDate day = last.minusDays(14L * (mites.length - 1 - i));
            washed(colony, day, mites[i], 300, BeeMeasure.COUNTED, null);
        }
    }

    private UUID washed(
            Colony colony,
            LocalDate day,
            int mites,
            double bees,
            BeeMeasure measure,
            Double beesLogSd) {
        UUID wash =
                place.washes()
                        .plan(
                                new NewWash(colony.id(), day, null, null, null, "", false),
                                By.nobody())
                        .id();
        place.washes().enterBees(wash, 1, measure, bees, beesLogSd, null, null, By.nobody());
        place.counting().enter(wash, Pass.FIRST, mites, null, By.nobody());
        return wash;
    }

    private UUID treat(Colony colony, LocalDate from, LocalDate until) {
        place.yard().treated(colony.id(), "formic acid", from, until, "", By.nobody());
        return place.yard().events(colony.id()).stream()
                .filter(event -> event.kind() == ColonyEvent.Kind.TREATMENT)
                .reduce((first, second) -> second)
                .orElseThrow()
                .id();
    }
}
