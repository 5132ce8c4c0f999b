package org.evenwash.logger.report;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.report.Block.Fact;
import org.evenwash.logger.store.Handling;

/** How a sample was taken and washed, in words; what was not stated has no line. */
public final class HandlingFacts {
    private HandlingFacts() {}

    public static List<Fact> of(Handling handling, Wording wording) {
        List<Fact> facts = new ArrayList<>();
        if (handling.frames() != null) {
            facts.add(new Fact(wording.field("frames"), handling.frames().toString()));
        }
        number(facts, wording, "liquid_mL", handling.liquid_mL());
        answer(facts, wording, "beesCovered", handling.beesCovered());
        number(facts, wording, "beeSieve_mm", handling.beeSieve_mm());
        number(facts, wording, "miteSieve_mm", handling.miteSieve_mm());
        answer(facts, wording, "jarWallsChecked", handling.jarWallsChecked());
        if (handling.timesWashed() != null) {
            facts.add(new Fact(wording.field("timesWashed"), handling.timesWashed().toString()));
        }
        return facts;
    }

    /** As many decimals as were given: a mesh of 0.25 mm is no mesh of 0.3 mm. */
    private static void number(List<Fact> facts, Wording wording, String field, Double value) {
        if (value != null) {
            String plain = BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
            facts.add(new Fact(wording.field(field), wording.decimals(plain)));
        }
    }

    private static void answer(List<Fact> facts, Wording wording, String field, Boolean yes) {
        if (yes != null) {
            facts.add(
                    new Fact(
                            wording.field(field),
                            wording.say(yes ? "answer.true" : "answer.false")));
        }
    }
}
