package org.evenwash.analysis.threshold;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.evenwash.analysis.threshold.Verdict.Call.ABOVE;
import static org.evenwash.analysis.threshold.Verdict.Call.BELOW;
import static org.evenwash.analysis.threshold.Verdict.Call.NOT_ASSESSED;
import static org.evenwash.analysis.threshold.Verdict.Call.UNDECIDED;

import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.analysis.threshold.Threshold.Unit;
import org.junit.jupiter.api.Test;

class VerdictTest {
    private static final Source SOURCE = new Source("An invented guide", "2020", "");

    private static Optional<Threshold> threshold(double value, Unit unit) {
        return Optional.of(new Threshold("t", value, unit, "", "anywhere", SOURCE));
    }

    private static Verdict.Call call(Optional<Threshold> threshold, Result result) {
        return Verdict.of(threshold, result).orElseThrow().call();
    }

    @Test
    void noThresholdNoVerdict() {
        assertThat(Verdict.of(Optional.empty(), new Result.Estimate(9, 8, 10))).isEmpty();
    }

    /** Garwood: 13 mites in 303 bees is 4.29 (2.28 to 7.34) per 100. */
    @Test
    void theWholeIntervalDecides() {
        Result wash = new Result.Estimate(4.290, 2.284, 7.337);
        assertThat(call(threshold(2, Unit.PER_100_BEES), wash)).isEqualTo(ABOVE);
        assertThat(call(threshold(3, Unit.PER_100_BEES), wash)).isEqualTo(UNDECIDED);
        assertThat(call(threshold(8, Unit.PER_100_BEES), wash)).isEqualTo(BELOW);
        assertThat(call(threshold(7.337, Unit.PER_100_BEES), wash)).isEqualTo(UNDECIDED);
    }

    /** The trap: "6 mites" per 300 bees is 2 per 100. */
    @Test
    void unitsAreNeverMixedUp() {
        Result wash = new Result.Estimate(4, 2.1, 5.9);
        assertThat(call(threshold(6, Unit.PER_300_BEES), wash)).isEqualTo(ABOVE);
        assertThat(call(threshold(6, Unit.PER_100_BEES), wash)).isEqualTo(BELOW);
        Verdict fall = Verdict.of(threshold(30, Unit.FALL_PER_DAY), wash).orElseThrow();
        assertThat(fall.call()).isEqualTo(NOT_ASSESSED);
        assertThat(fall.words()).contains("mites fallen per day");
        assertThat(call(threshold(1000, Unit.PER_COLONY), wash)).isEqualTo(NOT_ASSESSED);
    }

    @Test
    void boundsDecideOnTheirOwnSideOnly() {
        Result zero = new Result.Bound(Result.Side.AT_MOST, 1.23);
        assertThat(call(threshold(3, Unit.PER_100_BEES), zero)).isEqualTo(BELOW);
        assertThat(call(threshold(1, Unit.PER_100_BEES), zero)).isEqualTo(UNDECIDED);
        Result least = new Result.Bound(Result.Side.AT_LEAST, 4);
        assertThat(call(threshold(3, Unit.PER_100_BEES), least)).isEqualTo(ABOVE);
        assertThat(call(threshold(5, Unit.PER_100_BEES), least)).isEqualTo(UNDECIDED);
        Result none = new Result.NotEnoughData("a count of bees");
        assertThat(call(threshold(3, Unit.PER_100_BEES), none)).isEqualTo(NOT_ASSESSED);
    }

    @Test
    void everyCallHasAWordAndAShape() {
        assertThat(Verdict.Call.values())
                .extracting(c -> c.shape() + " " + c.word())
                .containsExactly("▲ above", "● below", "◐ undecided", "○ not assessed");
    }

    @Test
    void impossibleThresholdsAreRefused() {
        assertThatThrownBy(() -> threshold(0, Unit.PER_100_BEES))
                .hasMessageContaining("above 0, not at 0.0");
    }
}
