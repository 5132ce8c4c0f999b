package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.report.Block.Fact;

/** The last part of each report: how its results came about, and by what they were judged. */
final class Method {
    /** Counted up whenever the same inputs would give another result. */
    static final String INFESTATION = "infestation 1";

    static final String TREND = "trend 1";
    static final String APIARY = "apiary 1";

    private Method() {}

    /** As its jar says; classes run from a build folder have no version. */
    static String program() {
        String version = Method.class.getPackage().getImplementationVersion();
        return "Evenwash " + (version == null ? "(development build)" : version);
    }

    /**
     * @param protocol null where none was asked
     * @param threshold null where none is chosen
     */
    static List<Block> blocks(
            String methodVersion, String protocol, String threshold, Wording wording) {
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(wording.say("report.method.version"), methodVersion + "; " + program()));
        if (protocol != null) {
            facts.add(new Fact(wording.say("report.method.protocol"), protocol));
        }
        facts.add(
                new Fact(
                        wording.say("report.method.threshold"),
                        threshold == null ? wording.say("report.method.noThreshold") : threshold));
        return List.of(
                new Block.Heading(wording.say("report.method")),
                new Block.Facts(facts),
                new Block.Paragraph(wording.say("report.method.limits"), Block.Tone.MUTED),
                new Block.Paragraph(wording.say("report.method.guidance"), Block.Tone.MUTED));
    }
}
