package org.evenwash.analysis.apiary;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.numeric.Binomial;
import org.evenwash.analysis.numeric.Hypergeometric;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ApiaryTest {

    private static final List<ColonyWash> FIVE =
            List.of(
                    new ColonyWash(3, 300),
                    new ColonyWash(7, 310),
                    new ColonyWash(1, 287),
                    new ColonyWash(12, 305),
                    new ColonyWash(5, 298));

    @Test
    void oneColony_saysNothingOfTheApiary() {
        var result = (NotEnoughData) Apiary.mean(FIVE.subList(0, 1), 12);
        assertThat(result.remarks()).singleElement().asString().contains("1.00", "0.20", "2.93");
        assertThat(Apiary.mean(FIVE.subList(0, 1), 1)).isInstanceOf(Estimate.class);
        assertThat(Apiary.mean(List.of(), 12)).isInstanceOf(NotEnoughData.class);
    }

    @Test
    void twoColonies_givePointsOnly() {
        var result = (Estimate) Apiary.mean(FIVE.subList(0, 2), 12);
        assertThat(result.upper()).isInfinite();
        assertThat(result.remarks()).contains(Apiary.POINTS_ONLY);
    }

    @Test
    void noMiteInAnyWash_isThePooledBound() {
        var zero = List.of(new ColonyWash(0, 300), new ColonyWash(0, 300), new ColonyWash(0, 300));
        assertThat(ResultText.of(Apiary.mean(zero, 10), Quantity.INFESTATION))
                .isEqualTo("0, up to 0.41 mites per 100 bees");
        var law = new PredictiveBeta(45, 5);
        assertThat(((Bound) Apiary.meanCorrected(zero, 10, law)).limit()).isGreaterThan(0.41);
    }

    @Test
    void everyColonyWashed_stillHasCountingNoise() {
        var all = (Estimate) Apiary.mean(FIVE, 5);
        var some = (Estimate) Apiary.mean(FIVE, 20);
        assertThat(all.lower()).isLessThan(all.value());
        assertThat(all.upper() - all.lower()).isLessThan(some.upper() - some.lower());
    }

    @Test
    void correction_dividesByTheRecoveryAndWidens() {
        var plain = (Estimate) Apiary.mean(FIVE, 20);
        var law = new PredictiveBeta(45, 5);
        var corrected = (Estimate) Apiary.meanCorrected(FIVE, 20, law);
        assertThat(corrected.value()).isCloseTo(plain.value() / 0.9, within(1e-12));
        assertThat(corrected.upper() / corrected.lower())
                .isGreaterThan(plain.upper() / plain.lower());
    }

    @Test
    void moreWashesThanColonies_areRefused() {
        assertThatThrownBy(() -> Apiary.mean(FIVE, 4)).hasMessageContaining("5 colonies washed");
        assertThatThrownBy(() -> Apiary.atMostOver(3, 2, 10)).hasMessageContaining("3 over of 2");
    }

    @Test
    void tieAtFivePercent_countsAsExcluded() {
        assertThat(ColoniesOver.of(0, 19, 20).atMost()).isZero();
        assertThat(ColoniesToWash.ifNoneIsOver(0, 100)).hasValue(95);
    }

    /** Fewest colonies, none over, to claim "at most D of N" (enumerated in R 4.2.2). */
    @ParameterizedTest
    @CsvSource({
        "0, 10, 19, 29, 48, 95, 190",
        "1, 8, 16, 23, 39, 78, 155",
        "2, 6, 12, 19, 31, 63, 126",
        "4, 4, 9, 13, 22, 45, 90",
        "9, 1, 4, 7, 12, 25, 51"
    })
    void coloniesToWash(int most, int n10, int n20, int n30, int n50, int n100, int n200) {
        assertThat(ColoniesToWash.ifNoneIsOver(most, 10)).hasValue(n10);
        assertThat(ColoniesToWash.ifNoneIsOver(most, 20)).hasValue(n20);
        assertThat(ColoniesToWash.ifNoneIsOver(most, 30)).hasValue(n30);
        assertThat(ColoniesToWash.ifNoneIsOver(most, 50)).hasValue(n50);
        assertThat(ColoniesToWash.ifNoneIsOver(most, 100)).hasValue(n100);
        assertThat(ColoniesToWash.ifNoneIsOver(most, 200)).hasValue(n200);
    }

    /** 300 bees, threshold 3: chance of reading below it (computed in R 4.2.2). */
    @ParameterizedTest
    @CsvSource({
        "3, 1, 0.456", "4.5, 1, 0.079", "6, 1, 0.007",
        "3, 0.9, 0.579", "4.5, 0.9, 0.145", "6, 0.9, 0.020"
    })
    void readingBelowTheThreshold(double rate, double recovery, double chance) {
        var reading = OperatingCharacteristic.uncorrected(rate, 300, 3, recovery);
        assertThat(reading.probabilityBelow()).isCloseTo(chance, within(5.1e-4));
    }

    /** As above where samples of a colony vary by 0.3 or 0.5 (simulated, R 4.2.2). */
    @ParameterizedTest
    @CsvSource({
        "3, 0.3, 0.493", "4.5, 0.3, 0.181", "6, 0.3, 0.061",
        "3, 0.5, 0.532", "4.5, 0.5, 0.287", "6, 0.5, 0.159"
    })
    void patchyColony_readsBelowMoreOften(double rate, double variation, double chance) {
        var reading = OperatingCharacteristic.ofPatchyColony(rate, 300, 3, 1, variation);
        assertThat(reading.probabilityBelow()).isCloseTo(chance, within(2e-3));
    }

    /**
     * If one bad colony in five reads as good, 12 of 40 washed, the upper bound holds the truth less
     * often: 0.952 with 10 bad colonies, 0.803 with 20 (simulated, R 4.2.2).
     */
    @ParameterizedTest
    @CsvSource({"10, 0.952", "20, 0.803"})
    void badColoniesReadAsGood_weakenTheUpperBound(int bad, double coverage) {
        double held = 0;
        for (int met = 0; met <= Math.min(12, bad); met++) {
            var sample = new Hypergeometric(40, bad, 12);
            double chance = sample.atMost(met) - sample.atMost(met - 1);
            for (int read = 0; read <= met; read++) {
                boolean holds = ColoniesOver.of(read, 12, 40).atMost() >= bad;
                held += holds ? chance * new Binomial(met, 0.8).mass(read) : 0;
            }
        }
        assertThat(held).isCloseTo(coverage, within(2e-3));
    }

    @Test
    void noColonyWashed_leavesEverythingPossible() {
        var bounds = ColoniesOver.of(0, 0, 20);
        assertThat(bounds.atMost()).isEqualTo(20);
        assertThat(bounds.atLeast()).isZero();
        assertThat(bounds.share()).isNaN();
    }

    @Test
    void precision_isAMatterOfMites() {
        assertThat(Precision.bees(3, 1, 0.3).getAsLong()).isEqualTo(1423);
        assertThat(Precision.bees(0, 1, 0.3)).isEmpty();
    }

    /** Simulated in R 4.2.2: P(high|1) 0.045, P(high|3) 0.957, mean bees 348, 281, and 418 at 2. */
    @Test
    void sequentialTest_behavesAsSimulated() {
        var test = new SequentialTest(1, 3);
        assertThat(test.behaviourAt(1).probabilityHigh()).isCloseTo(0.045, within(0.003));
        assertThat(test.behaviourAt(3).probabilityHigh()).isCloseTo(0.957, within(0.003));
        assertThat(test.behaviourAt(1).meanBees()).isCloseTo(348, within(5.0));
        assertThat(test.behaviourAt(3).meanBees()).isCloseTo(281, within(5.0));
        assertThat(test.behaviourAt(2).meanBees()).isCloseTo(418, within(5.0));
    }

    @Test
    void sequentialTest_stopsOnEvidenceAndAtTheLastBatch() {
        var test = new SequentialTest(1, 3);
        assertThat(test.standing(1, 50)).isEqualTo(SequentialTest.Standing.WASH_ANOTHER_BATCH);
        assertThat(test.standing(5, 50)).isEqualTo(SequentialTest.Standing.HIGH);
        assertThat(test.standing(0, 150)).isEqualTo(SequentialTest.Standing.LOW);
        assertThat(test.standing(10, 600)).isEqualTo(SequentialTest.Standing.LOW);
        assertThat(test.standing(11, 600)).isEqualTo(SequentialTest.Standing.HIGH);
    }
}
