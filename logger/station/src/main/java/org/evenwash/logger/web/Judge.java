package org.evenwash.logger.web;

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
     * @param tone class of the state colour
     */
    public record Line(
            String title,
            String word,
            String shape,
            String tone,
            String evidence,
            String asked,
            String source) {}

    String protocolName() {
        return protocol.name() + ", " + protocol.edition();
    }

    List<Line> check(WashSheet sheet) {
        return protocol.check(WashKnowledge.facts(sheet)).stream().map(Judge::line).toList();
    }

    private static Line line(Check check) {
        return new Line(
                check.point().title(),
                check.outcome().word(),
                shape(check.outcome()),
                tone(check.outcome()),
                check.evidence(),
                check.asked(),
                check.source().toString());
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
