package org.evenwash.logger.web;

import java.util.Comparator;
import java.util.List;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.logger.wash.WashKnowledge;
import org.evenwash.logger.wash.WashSheet;

/** Holds a wash against a protocol, and puts each check so that a page can show it. */
public final class Judge {
    private final Protocol protocol;

    Judge(Protocol protocol) {
        this.protocol = protocol;
    }

    /**
     * One point that could be assessed.
     *
     * @param tone class of the state colour
     * @param source number of the source in {@link Judgement#sources}, from 1
     */
    public record Line(
            String title,
            String word,
            String shape,
            String tone,
            String evidence,
            String asked,
            int source) {}

    /**
     * @param assessed worst first
     * @param open points on which nothing was recorded, with what the protocol asks
     */
    public record Judgement(List<Line> assessed, List<Line> open, List<String> sources) {}

    String protocolName() {
        return protocol.name() + ", " + protocol.edition();
    }

    Judgement check(WashSheet sheet) {
        List<Check> checks =
                protocol.check(WashKnowledge.facts(sheet)).stream()
                        .sorted(Comparator.comparing(Check::outcome).reversed())
                        .toList();
        List<String> sources =
                checks.stream().map(check -> check.source().toString()).distinct().toList();
        return new Judgement(lines(checks, sources, true), lines(checks, sources, false), sources);
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
