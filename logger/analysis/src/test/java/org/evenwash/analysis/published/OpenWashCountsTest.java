package org.evenwash.analysis.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.infestation.Infestation;
import org.junit.jupiter.api.Test;

/**
 * Open wash counts: Aurell, D., Wall, C., Bruckner, S. and Williams, G. R. (2024) Journal of Insect
 * Science, data set doi 10.5281/zenodo.10612430 (CC BY 4.0). The file lies beside the repository and is
 * not part of it.
 */
class OpenWashCountsTest {

    private static final Path IN_THE_PARENT = Path.of("shared", "open-data", "wash-counts.csv");
    private static final int ROWS = 175;

    @Test
    void everyRow_givesThePublishedInfestation() throws IOException {
        List<String> lines = Files.readAllLines(file());
        assertThat(lines).hasSize(ROWS + 1);
        List<String> header = List.of(lines.get(0).split(",", -1));
        int bees = header.indexOf("bees_by_weight");
        int mites = header.indexOf("mites");
        int published = header.indexOf("published_mites_per_100");
        for (String line : lines.subList(1, lines.size())) {
            String[] row = line.split(",", -1);
            Result result =
                    Infestation.counted(
                            Integer.parseInt(row[mites]), Double.parseDouble(row[bees]));
            assertThat(valueOf(result))
                    .as(line)
                    .isCloseTo(Double.parseDouble(row[published]), within(1e-9));
        }
    }

    /** A wash without a mite is a bound in our words and a plain 0 in the data. */
    private static double valueOf(Result result) {
        return result instanceof Result.Estimate estimate ? estimate.value() : 0;
    }

    private static Path file() {
        for (Path at = Path.of("").toAbsolutePath(); at != null; at = at.getParent()) {
            if (Files.isDirectory(at.resolve(".mvn"))) {
                Path file = at.resolveSibling(IN_THE_PARENT);
                return Files.exists(file) ? file : absent(file);
            }
        }
        return absent(IN_THE_PARENT);
    }

    private static Path absent(Path file) {
        String message = "The open wash counts were not tested: there is no " + file;
        if (System.getenv("CI") != null) {
            return fail(message);
        }
        System.out.println(message);
        return abort(message);
    }
}
