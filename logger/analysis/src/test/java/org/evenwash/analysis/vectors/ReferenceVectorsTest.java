package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/**
 * Every case of a file of reference vectors, computed by R and checked by Python (scipy, mpmath); each
 * case names its call and version. Another file of the same form: {@code -Devenwash.vectors=FILE}.
 */
class ReferenceVectorsTest {

    @Test
    void everyCaseOfTheFile_isReproduced() throws IOException {
        String other = System.getProperty("evenwash.vectors");
        JsonNode file =
                other == null
                        ? resource("/reference-vectors.json")
                        : new ObjectMapper().readTree(Files.readString(Path.of(other)));
        VectorFile.Outcome outcome = VectorFile.run(file);
        System.out.println(outcome);
        assertThat(outcome.failures()).isEmpty();
    }

    static JsonNode resource(String name) throws IOException {
        try (InputStream own = ReferenceVectorsTest.class.getResourceAsStream(name)) {
            return new ObjectMapper().readTree(own);
        }
    }
}
