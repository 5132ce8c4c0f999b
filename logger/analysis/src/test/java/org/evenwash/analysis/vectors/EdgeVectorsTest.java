package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import org.junit.jupiter.api.Test;

/**
 * More vectors of the same form at the edges of the closed forms (no mites, one colony in two, all or
 * none, empty cells), computed apart from this code by scipy 1.17.1, numpy and mpmath.
 */
class EdgeVectorsTest {

    @Test
    void everyEdgeCase_isReproduced() throws IOException {
        var outcome = VectorFile.run(ReferenceVectorsTest.resource("/edge-vectors.json"));
        assertThat(outcome.failures()).isEmpty();
        assertThat(outcome.cases()).isEqualTo(102);
    }
}
