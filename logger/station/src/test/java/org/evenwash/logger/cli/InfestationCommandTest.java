package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class InfestationCommandTest {
    @TempDir Path folder;

    /**
     * 2 mites in 300 bees: 0.67 per 100 (common practice, no source); limits by Garwood 1936,
     * Biometrika 28:437-442, computed with R 4.2.2: qchisq(.025, 4)/2/3 and qchisq(.975, 6)/2/3.
     */
    @Test
    void twoMitesIn300Bees_asTextAndInFullPrecision() throws Exception {
        Run text = Run.of("infestation", "--mites", "2", "--bees", "300");
        Run json = Run.of("infestation", "--mites", "2", "--bees", "300", "--json");

        assertThat(text.exit()).isZero();
        assertThat(text.out()).contains("0.67 mites per 100 bees (95 %: 0.08–2.41)");
        JsonNode result = infestation(json);
        assertThat(result.get("value").doubleValue()).isEqualTo(2.0 / 3, within(1e-15));
        assertThat(result.get("lower").doubleValue()).isEqualTo(0.0807364, within(5e-8));
        assertThat(result.get("upper").doubleValue()).isEqualTo(2.4082292, within(5e-8));
    }

    /** COLOSS BEEBOOK (Dietemann et al. 2013) worked example: 13 mites on 303 bees, 4.3 per 100. */
    @Test
    void thirteenMitesIn303Bees_areTheBeebooksExample() {
        assertThat(Run.of("infestation", "--mites", "13", "--bees", "303").out())
                .contains("4.29 mites per 100 bees");
        assertThat(Run.of("infestation", "--mites", "13", "--bees", "303", "--json").out())
                .contains("4.2904290429");
    }

    @Test
    void noMite_isABoundAndNeverZeroWithoutOne() throws Exception {
        assertThat(Run.of("infestation", "--mites", "0", "--bees", "300").out())
                .contains("0, up to 1.23 mites per 100 bees");
        JsonNode json =
                infestation(Run.of("infestation", "--mites", "0", "--bees", "300", "--json"));
        assertThat(json.get("kind").textValue()).isEqualTo("at-most");
        assertThat(json.has("lower")).isFalse();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
                    --mites -1 --bees 300      | --mites must be from 0 to 1000000, not -1
                    --mites 2 --bees 0         | --bees must be above 0 and at most 1000000000, not 0.0
                    --mites 2 --bees -5        | --bees must be above 0
                    --mites 2 --bees NaN       | "NaN" is not a number
                    --mites 2 --bees 317,4     | write a decimal point, not a comma: 317.4
                    --mites 2                  | Give a file, or both --mites and --bees.
                    --mites two --bees 300     | 'two' is not an int
                    nowhere.csv                | There is no file nowhere.csv here. Check the name
                    --mightes 2                | Unknown option: '--mightes'
                    --mites 2 --bees 300 --threshold oslo | Known are nbu-colony, nbu-fall,
                    --mites 2 --bees 300 --chart a.pdf    | ends in .svg or .png, not "a.pdf"
                    """)
    void wrongInput_isNamed_andExits2(String args, String message) {
        Run run = Run.of(("infestation " + args).split(" "));

        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.err()).contains(message);
        assertThat(run.out()).isEmpty();
    }

    @Test
    void badRows_areAllNamedWithLineColumnValueAndExpectation() throws IOException {
        Path file = folder.resolve("counts.csv");
        Files.writeString(file, "mites,bees\n2,300\nthree,300\n4,\"317,4\"\n,0\n");

        Run run = Run.of("infestation", file.toString());

        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.out()).isEmpty();
        assertThat(run.err())
                .contains(
                        "counts.csv, line 3, column mites: \"three\"; expected a whole number from 0")
                .contains(
                        "counts.csv, line 4, column bees: \"317,4\"; expected a number above 0 (write a"
                                + " decimal point, not a comma: 317.4)")
                .contains("line 5, column mites: is empty")
                .contains("line 5, column bees: \"0\"");
    }

    @Test
    void missingColumn_isNamedWithThoseThatAreThere() throws IOException {
        Path file = folder.resolve("counts.csv");
        Files.writeString(file, "varroa,bees\n2,300\n");

        assertThat(Run.of("infestation", file.toString()).err())
                .contains(
                        "line 1: there is no column \"mites\" (mites counted, from 0). The file has"
                                + " varroa, bees. If one of them holds it, say --column mites=THEIRS");
        assertThat(Run.of("infestation", file.toString(), "--column", "mites=varroa").out())
                .contains("0.67", "0.08–2.41");
        assertThat(Run.of("infestation", file.toString(), "--column", "mite=varroa").exit())
                .isEqualTo(2);
    }

    @Test
    void emptyAndRaggedFiles_areExplained() throws IOException {
        Path empty = Files.writeString(folder.resolve("empty.csv"), "");
        Path header = Files.writeString(folder.resolve("header.csv"), "mites,bees\n");
        Path ragged = Files.writeString(folder.resolve("ragged.csv"), "mites,bees\n1,300,9\n");

        for (Path file : new Path[] {empty, header, ragged}) {
            Run run = Run.of("infestation", file.toString());
            assertThat(run.exit()).as(file.toString()).isEqualTo(2);
            assertThat(run.err()).as(file.toString()).contains(file.getFileName().toString());
        }
    }

    @Test
    void dash_readsStandardInput() {
        InputStream before = System.in;
        System.setIn(
                new ByteArrayInputStream("mites;bees\n13;303\n".getBytes(StandardCharsets.UTF_8)));
        try {
            assertThat(Run.of("infestation", "-", "--separator", ";").out()).contains("4.29");
        } finally {
            System.setIn(before);
        }
    }

    /** The threshold is USDA-ARS Tucson's as quoted; 2 of 300 lie wholly below it, 14 of 300 do not. */
    @Test
    void chosenThreshold_givesAVerdict_andNoneWithoutOne() throws Exception {
        Run without = Run.of("infestation", "--mites", "14", "--bees", "300");
        Run below =
                Run.of(
                        "infestation",
                        "--mites",
                        "2",
                        "--bees",
                        "300",
                        "--threshold",
                        "usda-tucson");
        Run undecided = Run.of("infestation", "--mites", "14", "--bees", "300", "--threshold", "3");

        assertThat(without.out()).doesNotContain("Verdict");
        assertThat(below.words()).contains("● Below 3 mites per 100 bees", "USDA-ARS Tucson");
        assertThat(undecided.words()).contains("◐ Undecided", "more bees to settle it");
    }

    /** A calibration widens the interval and raises the value; the verdict stays on what was washed. */
    @Test
    void recoveryFile_correctsBesideTheWashedFigure() throws Exception {
        Path calibration = folder.resolve("recovery.csv");
        Files.writeString(calibration, Run.of("recovery", "--example").out());
        JsonNode wash =
                new ObjectMapper()
                        .readTree(
                                Run.of(
                                                "infestation",
                                                "--mites",
                                                "14",
                                                "--bees",
                                                "300",
                                                "--recovery-from",
                                                calibration.toString(),
                                                "--threshold",
                                                "3",
                                                "--json")
                                        .out())
                        .at("/washes/0");

        assertThat(wash.at("/corrected/value").doubleValue())
                .isGreaterThan(wash.at("/infestation/value").doubleValue());
        assertThat(wash.at("/corrected/upper").doubleValue())
                .isGreaterThan(wash.at("/infestation/upper").doubleValue());
        assertThat(wash.at("/verdict").textValue()).isEqualTo("undecided");
    }

    /** 3 in 300 estimated with a spread of .126 is 1.00 (0.20–3.01): what would settle it is a count. */
    @Test
    void undecidedByEstimatedBees_asksForTheirCount() throws IOException {
        Path counts =
                Files.writeString(
                        folder.resolve("counts.csv"),
                        "mites,bees,bees_log_sd\n3,300,0.126\n4,300,0.126\n4,300,\n");
        String out = Run.of("infestation", counts.toString(), "--threshold", "3").out();
        assertThat(out).contains("0.20–3.01", "count the bees", ", counted");
    }

    /** 14 in 300 is 4.67 (2.55–7.83) as washed; what was corrected lies higher. */
    @Test
    void chartWithAThreshold_drawsWhatWasWashed_andWithoutOneNamesBoth() throws Exception {
        Path calibration = folder.resolve("recovery.csv");
        Files.writeString(calibration, Run.of("recovery", "--example").out());
        String with = chart(calibration, "--mites", "14", "--bees", "300", "--threshold", "3");
        assertThat(with).contains("2.55 to 7.83").doesNotContain("corrected");

        String without = chart(calibration, "--mites", "14", "--bees", "300");
        assertThat(without).contains("as washed: 4.67", "corrected: ").doesNotContain("threshold");

        Path counts = Files.writeString(folder.resolve("counts.csv"), "mites,bees\n14,300\n");
        assertThat(chart(calibration, counts.toString(), "--threshold", "3"))
                .contains("per 100 bees as washed", "4.67");
        assertThat(chart(calibration, counts.toString())).contains("corrected for recovery");
    }

    private String chart(Path calibration, String... args) throws IOException {
        Path chart = folder.resolve("chart.svg");
        List<String> all = new ArrayList<>(List.of("infestation"));
        all.addAll(List.of(args));
        all.addAll(List.of("--recovery-from", calibration.toString()));
        all.addAll(List.of("--chart", chart.toString()));
        Run run = Run.of(all.toArray(new String[0]));
        assertThat(run.exit()).as(run.err()).isZero();
        return Files.readString(chart);
    }

    private static JsonNode infestation(Run run) throws IOException {
        return new ObjectMapper().readTree(run.out()).at("/washes/0/infestation");
    }
}
