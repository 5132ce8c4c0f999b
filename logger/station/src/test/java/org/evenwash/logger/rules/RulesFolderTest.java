package org.evenwash.logger.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RulesFolderTest {
    private static final String OWN_THRESHOLD =
            """
            thresholds:
              own-spring:
                value: 1
                unit: per_100_bees
                region: our yards
                source: {citation: own rule, edition: "2031"}
            """;

    @TempDir Path folder;

    private Path write(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    @Test
    void noFolder_offersWhatShips() {
        var offer = new RulesFolder(folder.resolve("nowhere")).onOffer();
        assertThat(offer.protocols().keySet()).isEqualTo(Rules.shippedProtocols().keySet());
        assertThat(offer.mistakes()).isEmpty();
    }

    @Test
    void ownFiles_areOfferedBesideTheShipped_andReadAgainWhenChanged() throws IOException {
        Path file = write("ours.yaml", OWN_THRESHOLD);
        write(
                "house.yml",
                Rules.shippedFile("coloss-beebook-2013.yaml")
                        .orElseThrow()
                        .replace("protocol: coloss-beebook-2013", "protocol: house"));
        RulesFolder rules = new RulesFolder(folder);
        assertThat(rules.onOffer().mistakes()).isEmpty();
        assertThat(rules.onOffer().protocols()).containsKeys("house", "coloss-beebook-2013");
        assertThat(rules.onOffer().thresholds().get("own-spring").value()).isEqualTo(1);

        write("ours.yaml", OWN_THRESHOLD.replace("value: 1", "value: 2"));
        Files.setLastModifiedTime(file, FileTime.from(Instant.parse("2031-05-01T00:00:00Z")));
        assertThat(rules.onOffer().thresholds().get("own-spring").value()).isEqualTo(2);
    }

    @Test
    void mistakes_areToldWithFileAndLine_andLeaveOnlyThatFileOut() throws IOException {
        write("a.yaml", OWN_THRESHOLD);
        write("b.yaml", "thresholds:\n  bad:\n    value: -3\n    unit: per_hive\n");
        var offer = new RulesFolder(folder).onOffer();
        assertThat(offer.thresholds()).containsKey("own-spring").doesNotContainKey("bad");
        assertThat(offer.mistakes())
                .extracting(Mistake::toString)
                .anyMatch(text -> text.startsWith("b.yaml, line 3: thresholds.bad.value"))
                .anyMatch(text -> text.startsWith("b.yaml, line 4: thresholds.bad.unit"));
    }

    @Test
    void takenShortName_andHugeOrBinaryFile_areMistakes() throws IOException {
        write("a.yaml", OWN_THRESHOLD.replace("own-spring", "university-of-florida"));
        write("big.yaml", "#".repeat((int) RulesFolder.MOST_BYTES + 1));
        Files.write(folder.resolve("c.yaml"), new byte[] {(byte) 0xff, (byte) 0xfe, 0});
        List<Mistake> mistakes = new RulesFolder(folder).onOffer().mistakes();
        assertThat(mistakes)
                .extracting(Mistake::file)
                .containsExactly("a.yaml", "big.yaml", "c.yaml");
        assertThat(mistakes.get(0).toString()).contains("not taken yet");
    }
}
