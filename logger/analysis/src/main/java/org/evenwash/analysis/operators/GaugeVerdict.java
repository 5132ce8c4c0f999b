package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.numeric.Limits;

/**
 * What a crossed study says of the counting itself.
 *
 * @param gauge SD of all that is not the part, in units of the measurements
 * @param study all figures; empty where the design is not crossed and balanced
 */
public record GaugeVerdict(Result gauge, Optional<GaugeStudy> study) {

    public static final int MIN_PARTS = 5;
    public static final int MIN_OPERATORS = 2;
    public static final int MIN_REPEATS = 2;

    /** Judges a study in which each operator measured each part equally often. */
    public static GaugeVerdict of(double[] values, String[] part, String[] operator) {
        Optional<GaugeStudy> study = GaugeStudy.of(values, part, operator);
        if (study.isEmpty()) {
            return new GaugeVerdict(
                    new NotEnoughData(
                            "the same parts measured by every operator, all equally often: at least "
                                    + MIN_PARTS
                                    + " parts, "
                                    + MIN_OPERATORS
                                    + " operators, "
                                    + MIN_REPEATS
                                    + " times each"),
                    study);
        }
        GaugeStudy s = study.get();
        if (s.parts() < MIN_PARTS || s.repeats() < MIN_REPEATS) {
            return new GaugeVerdict(
                    new NotEnoughData(
                            "at least "
                                    + MIN_PARTS
                                    + " parts, "
                                    + MIN_OPERATORS
                                    + " operators, "
                                    + MIN_REPEATS
                                    + " times each (now "
                                    + s.parts()
                                    + ", "
                                    + s.operators()
                                    + ", "
                                    + s.repeats()
                                    + ")"),
                    study);
        }
        double sd = s.shown().gauge();
        if (!(sd > 0)) {
            return new GaugeVerdict(
                    new NotEnoughData(
                            "parts that can be told apart more finely: all measurements of a part agreed"),
                    study);
        }
        Limits limits = s.gaugeInterval();
        return new GaugeVerdict(
                new Estimate(
                        sd, Math.min(limits.lower(), sd), Math.max(limits.upper(), sd), remarks(s)),
                study);
    }

    private static List<String> remarks(GaugeStudy s) {
        List<String> remarks = new ArrayList<>();
        remarks.add(
                String.format(
                        Locale.ROOT,
                        "Of the whole spread the counting makes %.0f %%; the limits are approximate"
                                + " (Satterthwaite).",
                        s.shown().percentGauge()));
        remarks.add(
                s.poolsInteraction()
                        ? "Operators and parts do not clearly interact; the interaction was put into error."
                        : "Operators differ more on some parts than on others; the interaction is kept apart.");
        if (s.shown().appraiser() == 0) {
            remarks.add("The part between operators was estimated below zero and taken as none.");
        }
        return remarks;
    }
}
