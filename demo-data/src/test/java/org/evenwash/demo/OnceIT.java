package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The demo's `--once` as a user runs it, in a process of its own. */
class OnceIT {
    @TempDir Path folder;

    @Test
    void once_playsTheDay_printsATable_andWritesWhatTheDatabaseHolds() throws Exception {
        List<String> command = new ArrayList<>(Program.java());
        command.addAll(
                List.of(
                        "-Devenwash.demo.folder=" + folder,
                        "-cp",
                        System.getProperty("java.class.path"),
                        "org.evenwash.demo.Demo",
                        "--once"));
        try (Program demo = Program.start("demo", command)) {
            assertThat(demo.awaitExit()).as(demo.tail()).isZero();
            assertThat(demo.all()).contains("simulated").contains("Written to");
        }
        List<NamedCsvRecord> rows;
        try (CsvReader<NamedCsvRecord> csv =
                CsvReader.builder().ofNamedCsvRecord(folder.resolve("once.csv"))) {
            rows = csv.stream().toList();
        }
        assertThat(rows).hasSizeGreaterThanOrEqualTo(8);
        assertThat(rows.get(0).getHeader())
                .containsExactly(
                        "cycle_id", "colony", "mites", "bees", "per_100", "lower", "upper");
        Set<String> stored =
                new HashSet<>(
                        Yard.column(
                                folder.resolve("demo/logger/evenwash.db"), "SELECT id FROM cycle"));
        assertThat(
                        Yard.column(
                                folder.resolve("demo/logger/evenwash.db"),
                                "SELECT id FROM cycle WHERE ended_at > received_at"))
                .as("cycles of the day that end after they came in, in the future that is")
                .isEmpty();
        for (NamedCsvRecord row : rows) {
            resultFollowsFromItsCounts(row);
            for (String id : row.getField("cycle_id").split(" ")) {
                assertThat(id.isEmpty() || stored.contains(id)).as(id).isTrue();
            }
        }
    }

    /** Interval as Garwood 1936, Biometrika 28:437–442, computed here from the gamma quantiles. */
    private static void resultFollowsFromItsCounts(NamedCsvRecord row) {
        int mites = Integer.parseInt(row.getField("mites"));
        double bees = Double.parseDouble(row.getField("bees"));
        double lower =
                mites == 0
                        ? 0
                        : new GammaDistribution(mites, 1).inverseCumulativeProbability(0.025);
        double upper = new GammaDistribution(mites + 1, 1).inverseCumulativeProbability(0.975);
        assertThat(number(row, "per_100")).isCloseTo(100 * mites / bees, within(1e-9));
        assertThat(number(row, "lower")).isCloseTo(100 * lower / bees, within(1e-6));
        assertThat(number(row, "upper")).isCloseTo(100 * upper / bees, within(1e-6));
    }

    private static double number(NamedCsvRecord row, String column) {
        return Double.parseDouble(row.getField(column));
    }
}
