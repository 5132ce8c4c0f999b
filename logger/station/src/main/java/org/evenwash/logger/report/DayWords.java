package org.evenwash.logger.report;

import java.util.Optional;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.threshold.MoreBees;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.WashSheet;

/** What the washes of one day say together, and what would settle them, on the page and on paper. */
public final class DayWords {
    private DayWords() {}

    /** Empty where nothing has to be settled. */
    public static Optional<String> settle(WashSheet sheet, Wording wording) {
        return sheet.settle().map(more -> settle(more, sheet.beesTogether(), wording));
    }

    private static String settle(MoreBees more, double bees, Wording wording) {
        return more.moreBees()
                .map(
                        number ->
                                wording.say(
                                        "wash.settle.bees",
                                        more.words(),
                                        wording.number(bees + number, 0)))
                .orElseGet(() -> wording.say("wash.settle", more.words()));
    }

    /** Beside one of them. */
    public static String withOthers(WashSheet.Together together, Wording wording) {
        return wording.say(
                "wash.together",
                together.others(),
                counted(together.day(), wording),
                said(together.day(), wording));
    }

    /** Of a colony. */
    public static String together(SameDay day, Wording wording) {
        return wording.say("wash.dayTogether", day.washes().size(), counted(day, wording));
    }

    /** As {@link #together}, with the figure and its verdict. */
    static String judged(SameDay day, Optional<Threshold> threshold, Wording wording) {
        String words = together(day, wording) + " " + said(day, wording) + ".";
        return day.verdict(threshold)
                .map(
                        verdict ->
                                words
                                        + " "
                                        + verdict.call().shape()
                                        + " "
                                        + wording.decimals(verdict.words()))
                .orElse(words);
    }

    private static String counted(SameDay day, Wording wording) {
        return wording.say("washes.mitesInBees", day.mites(), wording.amount(day.bees()));
    }

    private static String said(SameDay day, Wording wording) {
        return wording.decimals(ResultText.of(day.infestation(), Quantity.INFESTATION));
    }
}
