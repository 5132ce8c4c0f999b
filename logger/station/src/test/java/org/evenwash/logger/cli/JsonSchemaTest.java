package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published JSON Schemas say what the commands print, in every one of their moods. */
class JsonSchemaTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final SchemaRegistry SCHEMAS =
            SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12);

    @TempDir static Path folder;

    static Set<String> commands() {
        return Commands.ANALYSES.keySet();
    }

    /** Beside a plain run of each command: other inputs, bounds, and not enough data. */
    static List<String> runs() {
        return List.of(
                "infestation --mites 2 --bees 300",
                "infestation --mites 0 --bees 300 --threshold nsw-dormant",
                "infestation --mites 9 --bees 300 --threshold nbu-fall",
                "infestation --mites 9 --bees 300.5 --bees-log-sd 0.1 --threshold 3",
                "infestation infestation.csv",
                "infestation infestation.csv --threshold 3 --recovery-from recovery.csv",
                "bee-count --bees 300",
                "bee-count --bees 300,310",
                "bee-count --bees 300,310,290,305",
                "bee-count bee-count.csv --grams 30",
                "bee-count bee-count.csv",
                "recovery --first 0 --second 0",
                "recovery --first 9 --second 0",
                "recovery --first 2 --second 9",
                "recovery --first 38 --second 26 --third 12 --second-wash-recovery 0.7",
                "recovery recovery.csv --second-wash-recovery 0.8",
                "agitation-time --plan-around 60",
                "agitation-time agitation-time.csv",
                "agitation-time few.csv",
                "agitation-time all-off.csv",
                "agitation-time same-method.csv --same-method",
                "operators operators.csv",
                "operators one-operator.csv",
                "recounts recounts.csv",
                "recounts few-recounts.csv",
                "bench-speed bench-speed.csv",
                "bench-speed one-reading.csv",
                "apiary apiary.csv --colonies 24",
                "apiary apiary.csv --colonies 8 --threshold 3 --recovery-from recovery.csv",
                "apiary one-colony.csv --colonies 5",
                "colonies-to-wash --colonies 1",
                "colonies-to-wash --colonies 24 --threshold 3",
                "colonies-to-wash --threshold 3 --recovery 0.9 --variation 0.3",
                "efficacy efficacy.csv",
                "efficacy --before-mites 24 --before-bees 300 --after-mites 0 --after-bees 300",
                "efficacy --before-mites 0 --before-bees 300 --after-mites 0 --after-bees 300",
                "efficacy --after-mites 2 --after-bees 300 --control-after-mites 20"
                        + " --control-after-bees 300",
                "trend trend.csv",
                "trend trend.csv --threshold 3",
                "trend zeros.csv --threshold 3",
                "spirit --percent-vol 95",
                "spirit --percent-mass 0 --day 20",
                "spirit --hydrometer 72 --temperature 27 --case 30",
                "spirit --percent-vol 95 --wanted 70",
                "spirit --percent-vol 91 --spirit 2-propanol --spirit-parts 2 --water-parts 1 --day 20",
                "spirit spirit.csv --percent-vol 70 --batch 400",
                "thresholds");
    }

    @ParameterizedTest
    @MethodSource("runs")
    void realOutput_isValidByItsSchema(String line) throws IOException {
        files();
        List<String> words = new ArrayList<>();
        for (String word : line.split(" ")) {
            words.add(word.endsWith(".csv") ? folder.resolve(word).toString() : word);
        }
        words.add("--json");
        Run run = Run.of(words.toArray(new String[0]));

        assertThat(run.err()).isEmpty();
        assertThat(run.exit()).isIn(0, 3);
        assertThat(JSON.readTree(run.out()).get("enoughData").booleanValue())
                .isEqualTo(run.exit() == 0);
        assertThat(schema(words.get(0)).validate(run.out(), InputFormat.JSON)).isEmpty();
    }

    @Test
    void everyCommand_isAmongTheRuns() {
        assertThat(runs().stream().map(line -> line.split(" ")[0]).distinct())
                .containsExactlyInAnyOrderElementsOf(commands());
    }

    @ParameterizedTest
    @MethodSource("commands")
    void schema_isOneOfItsDraft_andRefusesWhatItDoesNotKnow(String command) {
        String text = Run.of(command, "--json-schema").out();
        Schema draft =
                SCHEMAS.getSchema(
                        SchemaLocation.of("https://json-schema.org/draft/2020-12/schema"));

        assertThat(draft.validate(text, InputFormat.JSON)).isEmpty();
        assertThat(schema(command).validate("{\"command\":\"" + command + "\"}", InputFormat.JSON))
                .isNotEmpty();
    }

    @Test
    void whatSchemasShare_isTheSameInAll() throws IOException {
        Map<String, JsonNode> shared = new HashMap<>();
        for (String command : commands()) {
            JsonNode definitions =
                    JSON.readTree(Run.of(command, "--json-schema").out()).get("$defs");
            for (Map.Entry<String, JsonNode> each : definitions.properties()) {
                JsonNode first = shared.putIfAbsent(each.getKey(), each.getValue());
                assertThat(each.getValue())
                        .as(command)
                        .isEqualTo(first == null ? each.getValue() : first);
            }
        }
        assertThat(shared).containsKeys("result", "input", "threshold", "recovery");
    }

    private static Schema schema(String command) {
        return SCHEMAS.getSchema(Run.of(command, "--json-schema").out(), InputFormat.JSON);
    }

    private static void files() throws IOException {
        for (String command : commands()) {
            if (!Commands.ANALYSES.get(command).get().columns().isEmpty()) {
                write(command, Run.of(command, "--example").out());
            }
        }
        write("few", "agitation_s,first_wash_mites,second_wash_mites\n20,3,2\n40,5,1\n");
        write("all-off", "agitation_s,first_wash_mites,second_wash_mites\n60,30,0\n90,25,0\n");
        write("same-method", sameMethod());
        write("one-operator", "operator,first_wash_mites,second_wash_mites\nOriel,20,3\n");
        write("few-recounts", "catch,operator,mites\nSorrel,Oriel,12\nSorrel,Wenna,13\n");
        write("one-reading", "displayed_rpm,reference_rpm\n180,178\n");
        write("one-colony", "mites,bees\n3,300\n");
        write("zeros", "day,mites,bees\n2031-05-01,0,300\n2031-05-15,0,300\n");
    }

    private static String sameMethod() {
        StringBuilder text =
                new StringBuilder(
                        "agitation_s,first_wash_mites,second_wash_mites,second_wash_agitation_s\n");
        for (int seconds : new int[] {15, 30, 60}) {
            for (int i = 0; i < 5; i++) {
                int first = (int) Math.round(25 * (1 - Math.exp(-seconds / 22.0)));
                text.append(seconds)
                        .append(',')
                        .append(first + i % 2)
                        .append(',')
                        .append((25 - first) * 4 / 5)
                        .append(",60\n");
            }
        }
        return text.toString();
    }

    private static void write(String name, String text) throws IOException {
        Files.writeString(folder.resolve(name + ".csv"), text);
    }
}
