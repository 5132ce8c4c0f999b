package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

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

    private static List<Path> mine() {
        return Disk.mounted(pid -> pid == ME);
    }
}
