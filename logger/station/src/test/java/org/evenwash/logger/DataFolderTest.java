package org.evenwash.logger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DataFolderTest {
    @TempDir Path folder;

    private String idIn(Path data) {
        try (DataFolder held = DataFolder.take(data)) {
            return held.stationId();
        }
    }

    @Test
    void stationId_isMadeOnce() throws IOException {
        String id = idIn(folder);

        assertThat(id).matches("evenwash-[0-9a-f-]{36}");
        assertThat(idIn(folder)).isEqualTo(id);
        try (var files = Files.list(folder)) {
            assertThat(files.map(Path::getFileName).map(Path::toString))
                    .containsExactlyInAnyOrder("in-use.lock", "station-id");
        }
    }

    /** As a power cut leaves a file that was made and not yet written. */
    @ParameterizedTest
    @ValueSource(strings = {"", " \n", "evenwash-", "\0\0\0\0"})
    void stationIdThatIsNone_isMadeAnew(String left) throws IOException {
        Files.writeString(folder.resolve("station-id"), left);

        String id = idIn(folder);

        assertThat(id).matches("evenwash-[0-9a-f-]{36}");
        assertThat(idIn(folder)).isEqualTo(id);
    }

    @Test
    void folderMadeHere_isForItsOwnerAlone_andOneThatIsThereStaysAsItIs() throws IOException {
        assumeTrue(folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        Path open = Files.createDirectory(folder.resolve("open"));
        Files.setPosixFilePermissions(open, PosixFilePermissions.fromString("rwxr-xr-x"));

        DataFolder.take(open).close();
        DataFolder.take(folder.resolve("new/data")).close();

        assertThat(modeOf(open)).isEqualTo("rwxr-xr-x");
        assertThat(modeOf(folder.resolve("new/data"))).isEqualTo("rwx------");
    }

    private static String modeOf(Path file) throws IOException {
        return PosixFilePermissions.toString(Files.getPosixFilePermissions(file));
    }
}
