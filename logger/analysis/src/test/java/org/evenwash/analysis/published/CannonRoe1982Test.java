package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;

import org.evenwash.analysis.apiary.ColoniesOver;
import org.evenwash.analysis.apiary.ColoniesToWash;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Cannon, R. M. and Roe, R. T. (1982) Livestock Disease Surveys: a field manual for veterinarians:
 * animals to examine so as to detect D affected among N with 95 %. Entries for N = 100 and 1000 are as
 * printed (from memory); the others are the same exact hypergeometric calculation by scipy 1.17.1.
 * Where the manual's approximation rounds to one more (20 with 10, 50 with 13), the exact one is here.
 */
class CannonRoe1982Test {

    @ParameterizedTest
    @CsvSource({
        "100, 10, 25",
        "100, 5, 45",
        "100, 1, 95",
        "1000, 100, 29",
        "1000, 50, 57",
        "1000, 10, 258",
        "10, 5, 4",
        "10, 3, 6",
        "10, 1, 10",
        "20, 10, 4",
        "20, 5, 9",
        "20, 2, 16",
        "20, 1, 19",
        "50, 25, 5",
        "50, 13, 9",
        "50, 5, 22",
        "50, 3, 31",
        "50, 1, 48",
        "100, 50, 5",
        "100, 25, 10",
        "200, 100, 5",
        "200, 50, 11",
        "200, 20, 27",
        "200, 10, 51",
        "200, 2, 155",
        "500, 250, 5",
        "500, 125, 11",
        "500, 50, 28",
        "500, 25, 56",
        "500, 5, 225",
        "10000, 100, 294"
    })
    void sampleThatDetects(int colonies, int affected, int sample) {
        // To detect D is to be able to claim "at most D − 1" when none is found.
        assertThat(ColoniesToWash.ifNoneIsOver(affected - 1, colonies)).hasValue(sample);
    }

    /** Common practice, no source: "two of twenty were fine" is taken for a healthy apiary. */
    @Test
    void twoColoniesOfTwentyBelow_leaveUpToFifteenPossiblyAbove() {
        assertThat(ColoniesOver.of(0, 2, 20).atMost()).isEqualTo(15);
    }
}
