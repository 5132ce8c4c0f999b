package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.abort;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * Open wash counts: Aurell, Wall, Bruckner and Williams 2024, Journal of Insect Science, data set doi
 * 10.5281/zenodo.10612430, CC BY 4.0. They lie beside the repository and are not part of it.
 */
class OpenWashCountsTest {
    private static final String PLACE = "shared/open-data/wash-counts.csv";
    private static final int PUBLISHED_WASHES = 175;

    @Test
    void everyPublishedWash_comesOutAsPublished() throws IOException {
        Path file = file();
        Run run =
                Run.of("infestation", file.toString(), "--column", "bees=bees_by_weight", "--json");
        assertThat(run.err()).isEmpty();
        JsonNode results = new ObjectMapper().readTree(run.out()).get("washes");
        List<String> lines = Files.readAllLines(file);

        assertThat(results).hasSize(PUBLISHED_WASHES);
        int estimated = 0;
        for (JsonNode result : results) {
            String[] cells = lines.get(result.get("line").intValue() - 1).split(",");
            double published = Double.parseDouble(cells[6]);
            // Without a mite the answer is a bound, and the published figure is 0.
            double ours = result.at("/infestation/value").doubleValue();
            assertThat(ours).as("line %s", result.get("line")).isEqualTo(published, within(1e-9));
            estimated += result.get("beesEstimated").booleanValue() ? 1 : 0;
        }
        assertThat(estimated).isEqualTo(156);
    }

    private static Path file() {
        Path here = Path.of("").toAbsolutePath();
        for (Path folder = here; folder != null; folder = folder.getParent()) {
            Path file = folder.resolve(PLACE);
            if (Files.exists(file)) {
                return file;
            }
        }
        String message = "the open wash counts are not beside the repository (../" + PLACE + ")";
        if (System.getenv("CI") != null) {
            throw new AssertionError(message);
        }
        return abort("did not run: " + message);
    }
}
