package org.evenwash.logger.transfer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.WashLine;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Open wash counts: Aurell, Wall, Bruckner and Williams 2024, Journal of Insect Science, data set doi
 * 10.5281/zenodo.10612430, CC BY 4.0. They lie beside the repository and are not part of it. Their
 * days are the numbers of an experiment.
 */
class OpenWashCountsImportTest {
    private static final String PLACE = "shared/open-data/wash-counts.csv";

    @Test
    void everyPublishedWash_isImportedWithItsCounts(@TempDir Path folder) throws IOException {
        List<String> lines = Files.readAllLines(file());
        try (OldBook book = new OldBook(folder)) {
            UUID id = book.upload(Files.readAllBytes(file()));
            Outcome outcome = book.check(id);
            assertThat(outcome.problems()).isEmpty();
            assertThat(outcome.ready()).isEqualTo(lines.size() - 1L).isEqualTo(175);
            book.accept(id);

            assertThat(book.washes()).hasSize(175);
            assertThat(book.washes())
                    .extracting(WashLine::beeMeasure)
                    .containsOnly(BeeMeasure.MASS);
            // Sums over the published file's own columns: sed 1d FILE | awk -F, '{m+=$6; b+=$5}'.
            int mites =
                    lines.stream().skip(1).mapToInt(l -> Integer.parseInt(l.split(",")[5])).sum();
            assertThat(book.washes().stream().mapToInt(WashLine::mites).sum()).isEqualTo(mites);
            double bees =
                    lines.stream()
                            .skip(1)
                            .mapToDouble(l -> Double.parseDouble(l.split(",")[4]))
                            .sum();
            assertThat(book.washes().stream().mapToDouble(WashLine::bees).sum())
                    .isCloseTo(bees, org.assertj.core.api.Assertions.within(1e-6));
            assertThat(book.check(book.upload(Files.readAllBytes(file()))).alreadyHere())
                    .isEqualTo(175);
        }
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
