package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What the help tells a newcomer to type is typed here, as it stands. */
class ExamplesTest {
    private static final String PROMPT = "  evenwash-logger ";

    @TempDir Path folder;

    static Set<String> commands() {
        return Commands.ANALYSES.keySet();
    }

    @ParameterizedTest
    @MethodSource("commands")
    void everyExampleInTheHelp_runsAsItStands(String command) throws IOException {
        Run help = Run.of(command, "--help");
        assertThat(help.exit()).isZero();
        List<String> examples = help.out().lines().filter(line -> line.startsWith(PROMPT)).toList();
        assertThat(examples).isNotEmpty();
        for (String example : examples) {
            run(example.substring(PROMPT.length()));
        }
    }

    @ParameterizedTest
    @MethodSource("commands")
    void help_namesEveryColumnAndTheExitCodes(String command) {
        String help = Run.of(command, "--help").out();

        for (Column column : Commands.ANALYSES.get(command).get().columns()) {
            assertThat(help).contains("  " + column.name() + " ");
        }
        assertThat(help).contains("Usage: evenwash-logger " + command, "  3   not enough data");
    }

    private void run(String example) throws IOException {
        String[] halves = example.split(" > ");
        List<String> words = new ArrayList<>();
        for (String word : halves[0].split(" ")) {
            words.add(isFile(word) ? folder.resolve(word).toString() : word);
        }
        Run run = Run.of(words.toArray(new String[0]));
        assertThat(run.exit()).as(example + "\n" + run.err()).isZero();
        assertThat(run.err()).as(example).isEmpty();
        assertThat(run.out()).as(example).isNotBlank().doesNotContain("NaN", "Infinity");
        if (halves.length == 2) {
            Files.writeString(folder.resolve(halves[1]), run.out());
        }
        int chart = words.indexOf("--chart");
        if (chart >= 0) {
            assertThat(Path.of(words.get(chart + 1))).as(example).isNotEmptyFile();
        }
    }

    private static boolean isFile(String word) {
        return word.endsWith(".csv") || word.endsWith(".png") || word.endsWith(".svg");
    }
}
