package org.evenwash.logger.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.UUID;
import org.evenwash.analysis.speed.SpeedBias;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.BeeMeasures;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.RecipeWish;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.record.Pass;

/** A yard's calibration work: washes of several lengths by several people, recounts, jars, readings. */
final class CalibrationScene {
    private static final double[] TIMES_S = {20, 40, 60, 90, 120, 180};
    private static final double LETTING_GO_PER_S = -Math.log(0.05) / 100;
    private static final int MITES = 24;

    private final Scene scene;
    private final SplittableRandom random = new SplittableRandom(11);
    private final List<Operator> people = new ArrayList<>();

    CalibrationScene(Scene scene) {
        this.scene = scene;
    }

    /** Puts it all in and gives the calibration of a fill line. */
    UUID set() {
        people.add(scene.ada);
        people.add(scene.brook);
        for (String name : List.of("Cass", "Dara", "Emery")) {
            people.add(scene.place.yard().addOperator(name, By.nobody()));
        }
        washes();
        Wash spilt = second(TIMES_S[2], scene.ada, 4, 19);
        scene.place
                .calibrating()
                .studies()
                .leaveOut(spilt.id(), "half of the first catch was spilt", By.nobody());
        recounts();
        scene.place
                .calibrating()
                .recipes()
                .make(
                        StudyFilter.ALL,
                        SecondWash.EXHAUSTIVE,
                        new RecipeWish(
                                0.95,
                                RecipeWish.Aim.UPPER_LIMIT,
                                Cycles3.RECIPE.recipeId(),
                                Cycles3.RECIPE.version(),
                                3,
                                20,
                                null),
                        By.nobody());
        scene.place
                .calibrating()
                .speeds()
                .add(
                        Scene.BENCH,
                        List.of(
                                new SpeedBias.Reading(180, 160),
                                new SpeedBias.Reading(181, 163),
                                new SpeedBias.Reading(120, 109)),
                        By.nobody());
        return line();
    }

    private void washes() {
        for (int round = 0; round < 4; round++) {
            for (int i = 0; i < TIMES_S.length; i++) {
                int first = off(TIMES_S[i]);
                second(TIMES_S[i], people.get((round + i) % 4), first, MITES - first);
            }
        }
    }

    private int off(double seconds) {
        int off = 0;
        for (int mite = 0; mite < MITES; mite++) {
            off += random.nextDouble() < -Math.expm1(-LETTING_GO_PER_S * seconds) ? 1 : 0;
        }
        return off;
    }

    private Wash second(double seconds, Operator who, int first, int second) {
        var place = scene.place;
        Wash wash =
                place.washes()
                        .plan(
                                new NewWash(
                                        scene.birch.id(),
                                        LocalDate.of(2031, 5, 2),
                                        who.id(),
                                        null,
                                        null,
                                        "",
                                        false),
                                By.nobody());
        place.washes().enterPass(wash.id(), Pass.FIRST, null, seconds, By.nobody());
        place.counting().enter(wash.id(), Pass.FIRST, first, who.id(), By.nobody());
        place.counting().enter(wash.id(), Pass.SECOND, second, who.id(), By.nobody());
        return wash;
    }

    /** One catch, counted by everybody three times. */
    private void recounts() {
        for (int time = 0; time < 3; time++) {
            for (Operator who : people) {
                int mites = 9 + random.nextInt(3) - 1;
                scene.place
                        .counting()
                        .recount(
                                scene.counted.id(), Pass.FIRST, mites, who.id(), true, By.nobody());
            }
        }
    }

    private UUID line() {
        List<BeeMeasures.CountedJar> jars = new ArrayList<>();
        for (int bees : new int[] {302, 291, 315, 298, 307, 288, 311, 300}) {
            jars.add(new BeeMeasures.CountedJar(null, bees));
        }
        return scene.place
                .calibrating()
                .measures()
                .add("Tall jar, blue line", CalibrationKind.FILL_LINE, jars, By.nobody());
    }
}
