package org.evenwash.analysis.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.evenwash.analysis.protocol.Check.Outcome.CAUTION;
import static org.evenwash.analysis.protocol.Check.Outcome.FAIL;
import static org.evenwash.analysis.protocol.Check.Outcome.NOT_ASSESSED;
import static org.evenwash.analysis.protocol.Check.Outcome.PASS;

import java.util.List;
import org.evenwash.analysis.protocol.Rule.Severity;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.Strength;
import org.junit.jupiter.api.Test;

class ProtocolTest {
    private static final Source SOURCE = new Source("An invented guide", "2020", "");

    private static Rule rule(Point point, Limit limit, Severity severity) {
        return new Rule(point, limit, severity, SOURCE, "");
    }

    private static Protocol protocol(Rule... rules) {
        return new Protocol("test", "A test", "2020", List.of(rules));
    }

    private static Check only(Protocol protocol, WashFacts.Builder facts) {
        List<Check> checks = protocol.check(facts.build());
        assertThat(checks).hasSize(1);
        return checks.get(0);
    }

    @Test
    void unknownIsNotAssessed_andSilenceIsNotChecked() {
        Protocol bees = protocol(rule(Point.BEES, Limit.Range.atLeast(300), Severity.CAUTION));
        Check check = only(bees, WashFacts.builder().queenCheck(false));
        assertThat(check.outcome()).isEqualTo(NOT_ASSESSED);
        assertThat(check.evidence()).isEqualTo("not recorded");
    }

    @Test
    void evidenceCarriesNumberUnitAndHowItIsKnown() {
        Protocol bees = protocol(rule(Point.BEES, Limit.Range.atLeast(300), Severity.CAUTION));
        Check check = only(bees, WashFacts.builder().beesCounted(303));
        assertThat(check.outcome()).isEqualTo(PASS);
        assertThat(check.asked()).isEqualTo("at least 300 bees");
        assertThat(check.evidence()).isEqualTo("303 bees, counted");
        assertThat(check.source()).isEqualTo(SOURCE);
        assertThat(only(bees, WashFacts.builder().beesCounted(299)).outcome()).isEqualTo(CAUTION);
    }

    @Test
    void estimatesThatStraddleTheLimitAreNeitherPassedNorFailed() {
        Protocol bees = protocol(rule(Point.BEES, Limit.Range.atLeast(300), Severity.FAIL));
        assertThat(
                        only(bees, WashFacts.builder().beesEstimated(310, 280, 340, "fill line"))
                                .outcome())
                .isEqualTo(CAUTION);
        assertThat(
                        only(bees, WashFacts.builder().beesEstimated(330, 310, 350, "fill line"))
                                .outcome())
                .isEqualTo(PASS);
        Check few = only(bees, WashFacts.builder().beesEstimated(250, 230, 270, "mass"));
        assertThat(few.outcome()).isEqualTo(FAIL);
        assertThat(few.evidence()).isEqualTo("250 (between 230 and 270) bees, estimated by mass");
    }

    @Test
    void whatTheRecordSaysCountsAndNotThePlan() {
        Protocol shake = protocol(rule(Point.AGITATION_S, Limit.Range.atLeast(20), Severity.FAIL));
        assertThat(only(shake, WashFacts.builder().agitationByHand_s(60)).outcome())
                .isEqualTo(PASS);
        Check recorded =
                only(shake, WashFacts.builder().agitationRecorded(60, 18.4, false, "stopped"));
        assertThat(recorded.outcome()).isEqualTo(FAIL);
        assertThat(recorded.evidence()).isEqualTo("18.4 s, cycle record, 60 s planned");
    }

    @Test
    void conformityComesFromTheCycleRecord() {
        Protocol conform =
                protocol(rule(Point.AGITATION_CONFORMS, new Limit.Required(), Severity.CAUTION));
        Check check =
                only(
                        conform,
                        WashFacts.builder()
                                .agitationRecorded(60, 48, false, "bout 2 cut short: lid open"));
        assertThat(check.outcome()).isEqualTo(CAUTION);
        assertThat(check.evidence()).isEqualTo("no, bout 2 cut short: lid open");
        assertThat(only(conform, WashFacts.builder().agitationByHand_s(60)).outcome())
                .isEqualTo(NOT_ASSESSED);
    }

    @Test
    void strengthIsARangeAndSoapyWaterHasNone() {
        Protocol strength =
                protocol(rule(Point.STRENGTH_PERCENT_VOL, Limit.Range.atLeast(70), Severity.FAIL));
        Strength weak = Strength.ofPercentVol(Spirit.ETHANOL, 66);
        Strength strong = Strength.ofPercentVol(Spirit.ETHANOL, 75);
        Check unsure = only(strength, WashFacts.builder().strength(weak, strong, "batch account"));
        assertThat(unsure.outcome()).isEqualTo(CAUTION);
        assertThat(unsure.evidence()).isEqualTo("70.5 (between 66 and 75) %vol, batch account");
        Check soap = only(strength, WashFacts.builder().liquid(Point.Liquid.SOAPY_WATER));
        assertThat(soap.outcome()).isEqualTo(NOT_ASSESSED);
        assertThat(soap.evidence()).contains("no strength");
    }

    @Test
    void choicesAndRanges() {
        Protocol origin =
                protocol(rule(Point.ORIGIN, new Limit.OneOf(List.of("brood-nest")), Severity.FAIL));
        assertThat(only(origin, WashFacts.builder().origin(Point.Origin.BROOD_NEST)).outcome())
                .isEqualTo(PASS);
        assertThat(only(origin, WashFacts.builder().origin(Point.Origin.ENTRANCE)).outcome())
                .isEqualTo(FAIL);
        Protocol sieve =
                protocol(rule(Point.BEE_SIEVE_MM, Limit.Range.between(3, 4), Severity.FAIL));
        assertThat(only(sieve, WashFacts.builder().beeSieve_mm(3)).outcome()).isEqualTo(PASS);
        assertThat(only(sieve, WashFacts.builder().beeSieve_mm(4)).outcome()).isEqualTo(PASS);
        assertThat(only(sieve, WashFacts.builder().beeSieve_mm(4.1)).outcome()).isEqualTo(FAIL);
        assertThat(only(sieve, WashFacts.builder().beeSieve_mm(4.1)).asked())
                .isEqualTo("3 to 4 mm");
    }

    @Test
    void secondWashRecountAndBlank() {
        WashFacts facts =
                WashFacts.builder()
                        .firstCount(18)
                        .laterWashes(18, 2)
                        .blindRecount(18, 17)
                        .carryOverBlank(0)
                        .build();
        Protocol all =
                protocol(
                        rule(Point.SECOND_WASH, new Limit.Required(), Severity.CAUTION),
                        rule(Point.SECOND_WASH_PERCENT, Limit.Range.atMost(10), Severity.FAIL),
                        rule(
                                Point.RECOUNT_DIFFERENCE_MITES,
                                Limit.Range.atMost(0),
                                Severity.CAUTION),
                        rule(Point.CARRY_OVER_MITES, Limit.Range.atMost(0), Severity.FAIL),
                        rule(Point.WASHES, Limit.Range.atLeast(2), Severity.FAIL));
        assertThat(all.check(facts))
                .extracting(
                        check -> check.point() + ": " + check.outcome() + " " + check.evidence())
                .containsExactly(
                        "WASHES: PASS at least 2 washes, by their counts",
                        "RECOUNT_DIFFERENCE_MITES: CAUTION 1 mite",
                        "SECOND_WASH: PASS yes, 2 more mites",
                        "SECOND_WASH_PERCENT: PASS 10 %, 2 of 20 mites",
                        "CARRY_OVER_MITES: PASS 0 mites, blank run");
        assertThat(Check.worst(all.check(facts))).isEqualTo(CAUTION);
        assertThat(Check.worst(all.check(WashFacts.builder().build()))).isEqualTo(NOT_ASSESSED);
        assertThat(Check.worst(List.of())).isEqualTo(NOT_ASSESSED);
    }

    /** Two counts are no proof that there was no third wash; who says there was none is believed. */
    @Test
    void washesByTheirCounts_areNoFewer_andAsStatedAreAll() {
        Protocol three = protocol(rule(Point.WASHES, Limit.Range.atLeast(3), Severity.FAIL));
        Check counted = only(three, WashFacts.builder().laterWashes(18, 2));
        assertThat(counted.outcome()).isEqualTo(NOT_ASSESSED);
        assertThat(counted.evidence()).isEqualTo("at least 2 washes, by their counts");
        assertThat(only(three, WashFacts.builder().laterWashes(18, 2, 0)).outcome())
                .isEqualTo(PASS);
        assertThat(only(three, WashFacts.builder().laterWashes(18, 2).timesWashed(3)).outcome())
                .isEqualTo(PASS);
        assertThat(only(three, WashFacts.builder().timesWashed(2)).outcome()).isEqualTo(FAIL);
        assertThat(only(three, WashFacts.builder()).outcome()).isEqualTo(NOT_ASSESSED);

        Protocol once = protocol(rule(Point.WASHES, Limit.Range.atMost(1), Severity.FAIL));
        assertThat(only(once, WashFacts.builder().laterWashes(18, 2)).outcome()).isEqualTo(FAIL);
        Protocol few = protocol(rule(Point.WASHES, Limit.Range.atMost(3), Severity.FAIL));
        assertThat(only(few, WashFacts.builder().laterWashes(18, 2)).outcome())
                .isEqualTo(NOT_ASSESSED);
    }

    @Test
    void ownProtocolReplacesPointByPoint() {
        Source own = new Source("Own rule", "2024", "");
        Protocol base =
                protocol(
                        rule(Point.BEES, Limit.Range.atLeast(300), Severity.FAIL),
                        rule(Point.AGITATION_S, Limit.Range.atLeast(20), Severity.FAIL));
        Protocol mine =
                new Protocol(
                        "mine",
                        "Mine",
                        "2024",
                        List.of(
                                new Rule(
                                        Point.AGITATION_S,
                                        Limit.Range.atLeast(60),
                                        Severity.CAUTION,
                                        own,
                                        ""),
                                new Rule(
                                        Point.RECOUNT,
                                        new Limit.Required(),
                                        Severity.CAUTION,
                                        own,
                                        "")));
        Protocol merged = base.overriddenBy(mine);
        assertThat(merged.rules())
                .extracting(Rule::point)
                .containsExactly(Point.BEES, Point.AGITATION_S, Point.RECOUNT);
        assertThat(merged.rule(Point.AGITATION_S).orElseThrow().source()).isEqualTo(own);
        assertThat(merged.rule(Point.BEES).orElseThrow().source()).isEqualTo(SOURCE);
        assertThat(merged.edition()).isEqualTo("2024; 2020");
    }

    @Test
    void impossibleRulesAndFactsAreRefused() {
        assertThatThrownBy(() -> rule(Point.BEES, new Limit.Required(), Severity.FAIL))
                .hasMessageContaining("bees takes a NUMBER limit");
        assertThatThrownBy(
                        () -> rule(Point.ORIGIN, new Limit.OneOf(List.of("attic")), Severity.FAIL))
                .hasMessageContaining("origin is one of [brood-nest");
        assertThatThrownBy(() -> Limit.Range.between(4, 3)).hasMessageContaining("above most");
        Rule bees = rule(Point.BEES, Limit.Range.atLeast(1), Severity.FAIL);
        assertThatThrownBy(() -> protocol(bees, bees)).hasMessageContaining("twice");
        assertThatThrownBy(() -> WashFacts.builder().beesCounted(0))
                .hasMessage("bees in the sample: at least 1 bees, not 0.0");
        assertThatThrownBy(() -> WashFacts.builder().beesEstimated(300, 310, 320, "mass"))
                .hasMessageContaining("does not lie between");
    }
}
