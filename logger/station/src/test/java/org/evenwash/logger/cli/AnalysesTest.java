package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.TimedWash;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The commands give the published figures, the analysis' own numbers, and honest endings. */
class AnalysesTest {
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir Path folder;

    /**
     * Zippin's three removals, 38, 26 and 12, as quoted by Seber (2002, The Estimation of Animal
     * Abundance, ch. 7); his large-sample formulas give 94.9 animals.
     */
    @Test
    void recovery_ofThreeWashes() throws IOException {
        Run run = Run.of("recovery", "--first", "38", "--second", "26", "--third", "12");

        assertThat(run.out()).contains("About 94.9 mites were on the bees");
    }

    /**
     * Cannon and Roe 1982 (Livestock Disease Surveys), 95 %: exact hypergeometric sizes to find at
     * least one when D of N are positive; a claim "at most D−1" needs that many washed.
     */
    @ParameterizedTest
    @CsvSource({"20, 0, 19", "20, 1, 16", "50, 2, 31", "100, 4, 45", "200, 19, 27", "1000, 9, 258"})
    void coloniesToWash_areThoseOfTheTables(int colonies, int atMost, int wash) throws IOException {
        JsonNode json =
                json("colonies-to-wash", "--colonies", "" + colonies, "--at-most", "" + atMost);

        assertThat(json.at("/plan/0/ifNoneIsOver").intValue()).isEqualTo(wash);
    }

    /** ppois(8, c(9, 13.5, 18)) in R 4.2.2, a wash of 300 at a threshold of 3 per 100. */
    @Test
    void coloniesToWash_misreadsAsOftenAsPoissonHasIt() throws IOException {
        JsonNode rows = json("colonies-to-wash", "--threshold", "3").get("characteristic");

        assertThat(below(rows, 3)).isEqualTo(0.4556526, within(1e-6));
        assertThat(below(rows, 4.5)).isEqualTo(0.0789955, within(1e-6));
        assertThat(below(rows, 6)).isEqualTo(0.0070560, within(1e-6));
    }

    /** OIML R 22: equal volumes of 95 %vol ethanol and water do not come to 47.5 %vol. */
    @Test
    void spirit_contracts_andTheCautiousFlashPointWarns() throws IOException {
        JsonNode json =
                json(
                        "spirit",
                        "--percent-vol",
                        "95",
                        "--spirit-parts",
                        "1",
                        "--water-parts",
                        "1",
                        "--day",
                        "24");

        assertThat(json.at("/mixture/percentVol").doubleValue()).isEqualTo(48.9, within(0.1));
        assertThat(json.at("/flashPoint/cautious_C").doubleValue())
                .isLessThan(json.at("/flashPoint/table_C").doubleValue());
        assertThat(json.at("/vapourCanBeLit").booleanValue()).isTrue();
    }

    /** One treated colony is judged by a file as it is on the page of its treatment. */
    @Test
    void efficacy_ofOneColonyBesideSeveral_holdsHowTheyDiffer() throws IOException {
        Path file = folder.resolve("one.csv");
        Files.writeString(
                file,
                """
                group,before_mites,before_bees,after_mites,after_bees
                treated,42,300,3,300
                control,35,300,44,300
                control,60,300,51,300
                control,28,300,40,300
                """);
        JsonNode json = json("efficacy", file.toString());

        assertThat(json.at("/method").asText()).contains("one colony beside several");
        assertThat(json.at("/efficacy/lower").asDouble()).isEqualTo(58.315, within(0.01));
    }

    @Test
    void agitationTime_isTheAnalysisOwnNumber_toTheLastDigit() throws IOException {
        Path file = example("agitation-time");
        List<TimedWash> washes =
                Files.readAllLines(file).stream()
                        .skip(1)
                        .map(line -> line.split(","))
                        .map(
                                cells ->
                                        new TimedWash(
                                                Double.parseDouble(cells[0]),
                                                Integer.parseInt(cells[1]),
                                                Integer.parseInt(cells[2])))
                        .toList();
        Estimate direct = (Estimate) AgitationTime.exhaustive(washes, 0.95).result();
        JsonNode time = json("agitation-time", file.toString()).get("time");

        assertThat(time.get("value").doubleValue()).isEqualTo(direct.value());
        assertThat(time.get("lower").doubleValue()).isEqualTo(direct.lower());
        assertThat(time.get("upper").doubleValue()).isEqualTo(direct.upper());
    }

    @Test
    void operators_giveTheSamePWithTheSameSeed() throws IOException {
        String file = example("operators").toString();
        JsonNode first = json("operators", file, "--seed", "7");
        JsonNode again = json("operators", file, "--seed", "7");

        assertThat(first).isEqualTo(again);
        assertThat(first.at("/permutation/deals").intValue()).isEqualTo(9_999);
    }

    @Test
    void trend_breaksAtAnEvent_andNamesTheDayOfTheThreshold() throws IOException {
        JsonNode json = json("trend", example("trend").toString(), "--threshold", "3");

        assertThat(json.get("stretches")).hasSize(2);
        assertThat(json.at("/stretches/0/crossingDay").textValue()).startsWith("2031-07");
    }

    @Test
    void beeCount_printsWhatInfestationTakes() {
        Run count = Run.of("bee-count", "--bees", "302,291,315,298,307,288,311,300");
        String options =
                count.out()
                        .lines()
                        .filter(line -> line.startsWith("For an infestation"))
                        .findFirst()
                        .orElseThrow()
                        .substring("For an infestation".length())
                        .strip();
        Run estimated = Run.of(("infestation --mites 9 " + options).split(" "));

        assertThat(estimated.exit()).isZero();
        assertThat(estimated.out()).contains("2.99 mites per 100 bees");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
                    bee-count --bees 300              | at least 2 counted calibration samples (now 1)
                    recovery --first 0 --second 0     | washes with at least one mite
                    efficacy --before-mites 0 --before-bees 300 --after-mites 0 --after-bees 300 | mites in the wash to compare with
                    """)
    void tooFewData_exit3_withWhatIsNeeded(String line, String needs) {
        Run run = Run.of(line.split(" "));

        assertThat(run.exit()).isEqualTo(3);
        assertThat(run.words()).contains("not enough data: needs " + needs);
        assertThat(run.err()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
                    operators                                   | Give a file of washes, or - for standard input.
                    apiary washes.csv                           | Give --colonies, the number of all colonies
                    agitation-time --share 2 --plan-around 60   | expected a share between 0 and 1
                    colonies-to-wash --colonies 0               | expected 1 to 1000000
                    colonies-to-wash --threshold nbu-fall       | is in mites fallen per day
                    efficacy --before-mites 3                   | --before-mites and --before-bees belong together
                    recovery --first 3                          | Give a file, or both --first and --second.
                    spirit                                      | Give the strength once
                    spirit --percent-vol 120                    | a strength lies between 0 and 100 %vol, not 120
                    spirit --spirit rum --percent-vol 40        | expected ethanol or 2-propanol
                    thresholds --example                        | reads no file
                    """)
    void wrongOptions_exit2_withTheWayOut(String line, String message) {
        Run run = Run.of(line.split(" "));

        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.err()).contains(message);
        assertThat(run.out()).isEmpty();
    }

    @Test
    void chartThatCannotBeWritten_isWrongInput_andAnEmptyOneSaysWhy() {
        Run unwritable =
                Run.of(
                        "infestation",
                        "--mites",
                        "2",
                        "--bees",
                        "300",
                        "--chart",
                        folder.resolve("no/such/folder.png").toString());
        Run nothing =
                Run.of(
                        "agitation-time",
                        "--plan-around",
                        "60",
                        "--chart",
                        folder.resolve("plan.png").toString());

        assertThat(unwritable.exit()).isEqualTo(2);
        assertThat(unwritable.err()).contains("check that its folder is there");
        assertThat(nothing.exit()).isZero();
        assertThat(nothing.err()).contains("No chart was drawn: a plan has no data to draw.");
        assertThat(folder.resolve("plan.png")).doesNotExist();
    }

    private double below(JsonNode rows, double rate) {
        for (JsonNode row : rows) {
            if (row.get("rate").doubleValue() == rate) {
                return row.get("everyMiteFound").doubleValue();
            }
        }
        throw new AssertionError("no row for " + rate);
    }

    private Path example(String command) throws IOException {
        return Files.writeString(
                folder.resolve(command + ".csv"), Run.of(command, "--example").out());
    }

    private static JsonNode json(String... words) throws IOException {
        String[] all = Arrays.copyOf(words, words.length + 1);
        all[words.length] = "--json";
        Run run = Run.of(all);
        assertThat(run.err()).isEmpty();
        return JSON.readTree(run.out());
    }
}
