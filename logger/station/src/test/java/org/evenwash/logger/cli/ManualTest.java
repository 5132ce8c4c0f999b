package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import picocli.CommandLine.Model.UsageMessageSpec;

class ManualTest {
    /** The manual page is written by hand; a command that it forgets, or keeps too long, is found. */
    @Test
    void everyCommandStandsInTheManual() throws IOException {
        List<String> inManual =
                Files.readAllLines(Path.of("src/deb/evenwash-logger.1")).stream()
                        .filter(line -> line.startsWith(".It Cm "))
                        .map(line -> line.substring(".It Cm ".length()))
                        .toList();
        assertThat(inManual)
                .containsExactlyInAnyOrderElementsOf(Main.commandLine().getSubcommands().keySet());
    }

    /** What the list of commands shows of each is the first line of what is said of it, so that line is a sentence. */
    @Test
    void everyCommandIsDescribedAsInTheProgram() throws IOException {
        List<String> manual = Files.readAllLines(Path.of("src/deb/evenwash-logger.1"));
        Main.commandLine()
                .getSubcommands()
                .forEach(
                        (name, command) -> {
                            if (name.equals("help") || name.equals("generate-completion")) {
                                return; // The library's own, described by it.
                            }
                            UsageMessageSpec said = command.getCommandSpec().usageMessage();
                            String first =
                                    said.header().length > 0
                                            ? said.header()[0]
                                            : said.description()[0];
                            assertThat(first).as(name).endsWith(".");
                            assertThat(manual.get(manual.indexOf(".It Cm " + name) + 1))
                                    .isEqualToIgnoringCase(first.substring(0, first.length() - 1));
                        });
    }

    @Test
    void aCommandNamedFirst_isMadeAlone_andIsTheSame() {
        Map<String, CommandLine> all = Main.commandLine().getSubcommands();
        for (String name : all.keySet()) {
            Map<String, CommandLine> made = Main.commandLine(name).getSubcommands();
            boolean needsTheOthers = name.equals("help") || name.equals("generate-completion");
            assertThat(made).as(name).hasSize(needsTheOthers ? all.size() : 1);
            assertThat(made.get(name).getUsageMessage()).isEqualTo(all.get(name).getUsageMessage());
        }
    }

    @Test
    void everyOptionOfTheManual_isOneOfTheProgram() throws IOException {
        CommandLine root = Main.commandLine();
        Set<String> known = new TreeSet<>(root.getCommandSpec().optionsMap().keySet());
        root.getSubcommands()
                .values()
                .forEach(command -> known.addAll(command.getCommandSpec().optionsMap().keySet()));
        Set<String> named = new TreeSet<>();
        Pattern.compile("^\\.Fl -([a-z-]+)", Pattern.MULTILINE)
                .matcher(Files.readString(Path.of("src/deb/evenwash-logger.1")))
                .results()
                .forEach(found -> named.add("--" + found.group(1)));
        assertThat(known).containsAll(named);
        assertThat(named).contains("--json-log");
    }
}
