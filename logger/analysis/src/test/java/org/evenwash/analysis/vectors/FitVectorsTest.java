package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import org.junit.jupiter.api.Test;

/**
 * More vectors of the same form for fits, charts and trend: random washes with and without scatter,
 * plateaus and infinite limits, computed apart from this code by scipy 1.17.1 and numpy (general
 * optimisers and dense scans where this code uses scores and Newton steps).
 */
class FitVectorsTest {

    @Test
    void everyRandomCase_isReproduced() throws IOException {
        var outcome = VectorFile.run(ReferenceVectorsTest.resource("/fit-vectors.json"));
        assertThat(outcome.failures()).isEmpty();
        assertThat(outcome.cases()).isEqualTo(114);
    }
}
