package org.evenwash.demo;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static java.nio.file.StandardOpenOption.CREATE_NEW;
import static java.nio.file.StandardOpenOption.WRITE;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DiskTest {
    private static final long ME = ProcessHandle.current().pid();

    @TempDir Path folder;

    @BeforeEach
    void mayMount() {
        assumeThat(Disk.possible()).as("root may mount").isTrue();
    }

    @Test
    void diskThatIsClosed_isUnmounted_alsoAfterAScenarioThatBroke() throws Exception {
        assertThatThrownBy(
                        () -> {
                            try (Disk disk = Disk.over(folder.resolve("broken"))) {
                                assertThat(mine()).containsExactly(folder.resolve("broken"));
                                disk.full();
                                throw new IllegalStateException("broke");
                            }
                        })
                .hasMessage("broke");
        assertThat(mine()).isEmpty();
    }

    /** As a run that was killed leaves it: its process is no more. */
    @Test
    void leftOverOfADeadProcess_goesAtTheNextStart() throws Exception {
        Process dead = new ProcessBuilder("true").start();
        assertThat(dead.waitFor()).isZero();
        Process mount =
                new ProcessBuilder(
                                "mount",
                                "-t",
                                "tmpfs",
                                "evenwash-test-disk-" + dead.pid(),
                                folder.toString())
                        .start();
        assertThat(mount.waitFor()).isZero();
        assertThat(Disk.mounted(pid -> pid == dead.pid())).containsExactly(folder);

        assertThat(Disk.possible()).isTrue();
        assertThat(Disk.mounted(pid -> pid == dead.pid())).isEmpty();
    }

    @Test
    void cardThatFails_refusesAnOpenFile_andIsOfUseAgainWithWhatWasSynced() throws Exception {
        assumeThat(Card.possible()).as("image files may be mounted").isTrue();
        Path place = folder.resolve("card");
        Path file = place.resolve("file");
        try (Card card = Card.over(place)) {
            assertThat(mine()).containsExactly(place);
            try (FileChannel open = FileChannel.open(file, CREATE_NEW, WRITE)) {
                open.write(ByteBuffer.wrap("synced".getBytes(US_ASCII)));
                open.force(true);
                card.fail();
                assertThatThrownBy(() -> open.write(ByteBuffer.wrap(new byte[1])))
                        .isInstanceOf(IOException.class);
            }
            card.repair();
            assertThat(file).hasContent("synced");
            Files.writeString(file, "of use again");
        }
        assertThat(mine()).isEmpty();
        assertThat(folder).isDirectoryNotContaining("glob:**.img");
    }

    @Test
    void cardThatIsFull_takesNothingMore_untilThereIsRoom() throws Exception {
        assumeThat(Card.possible()).as("image files may be mounted").isTrue();
        try (Card card = Card.over(folder.resolve("card"))) {
            Path file = card.folder().resolve("file");
            card.full();
            assertThatThrownBy(() -> Files.write(file, new byte[100_000]))
                    .isInstanceOf(IOException.class);
            card.roomy();
            Files.write(file, new byte[100_000]);
        }
    }

    private static List<Path> mine() {
        return Disk.mounted(pid -> pid == ME);
    }
}
