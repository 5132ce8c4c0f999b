package org.evenwash.logger.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WholeFileTest {
    @TempDir Path folder;

    @Test
    void written_isReadByThoseItIsFor_andNothingIsLeftBeside() throws IOException {
        WholeFile.write(folder.resolve("acl"), "one", "rw-r--r--");
        WholeFile.write(folder.resolve("acl"), "two", "rw-r--r--");
        WholeFile.write(folder.resolve("key"), "secret");

        assertThat(folder.resolve("acl")).hasContent("two");
        assertThat(permissions("acl")).isEqualTo("rw-r--r--");
        assertThat(permissions("key")).isEqualTo("rw-------");
        assertThat(names()).containsExactly("acl", "key");
    }

    @Test
    void thatCannotTakeItsPlace_leavesNothingBeside() throws IOException {
        Files.createDirectories(folder.resolve("acl/inside"));

        assertThatThrownBy(() -> WholeFile.write(folder.resolve("acl"), "one"))
                .isInstanceOf(IOException.class);

        assertThat(names()).containsExactly("acl");
    }

    private String permissions(String name) throws IOException {
        return PosixFilePermissions.toString(Files.getPosixFilePermissions(folder.resolve(name)));
    }

    private Stream<String> names() throws IOException {
        try (Stream<Path> inside = Files.list(folder)) {
            return inside.map(path -> path.getFileName().toString()).sorted().toList().stream();
        }
    }
}
