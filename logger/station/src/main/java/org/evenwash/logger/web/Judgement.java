package org.evenwash.logger.web;

import java.util.Comparator;
import java.util.List;
import org.evenwash.analysis.protocol.Check;

/**
 * The checks of a wash as a page shows them.
 *
 * @param assessed worst first
 * @param open points on which nothing was recorded, with what the protocol asks
 * @param sources numbered from 1 by their place
 */
public record Judgement(List<Line> assessed, List<Line> open, List<String> sources) {

    /**
     * One point.
     *
     * @param tone class of the state colour
     * @param source its number in {@link Judgement#sources}
     */
    public record Line(
            String title,
            String word,
            String shape,
            String tone,
            String evidence,
            String asked,
            int source) {}

    static Judgement of(List<Check> checks) {
        List<Check> worstFirst =
                checks.stream().sorted(Comparator.comparing(Check::outcome).reversed()).toList();
        List<String> sources =
                worstFirst.stream().map(check -> check.source().toString()).distinct().toList();
        return new Judgement(
                lines(worstFirst, sources, true), lines(worstFirst, sources, false), sources);
    }

    private static List<Line> lines(List<Check> checks, List<String> sources, boolean assessed) {
        return checks.stream()
                .filter(check -> (check.outcome() != Check.Outcome.NOT_ASSESSED) == assessed)
                .map(check -> line(check, sources))
                .toList();
    }

    private static Line line(Check check, List<String> sources) {
        return new Line(
                check.point().title(),
                check.outcome().word(),
                shape(check.outcome()),
                tone(check.outcome()),
                check.evidence(),
                check.asked(),
                1 + sources.indexOf(check.source().toString()));
    }

    private static String shape(Check.Outcome outcome) {
        return switch (outcome) {
            case PASS -> "●";
            case CAUTION -> "◐";
            case FAIL -> "▲";
            case NOT_ASSESSED -> "○";
        };
    }

    private static String tone(Check.Outcome outcome) {
        return switch (outcome) {
            case PASS -> "normal";
            case CAUTION -> "abnormal";
            case FAIL -> "danger";
            case NOT_ASSESSED -> "neutral";
        };
    }
}
