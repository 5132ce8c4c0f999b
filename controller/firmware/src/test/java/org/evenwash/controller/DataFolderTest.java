package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import org.evenwash.controller.store.OutboxRefused;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DataFolderTest {
    @TempDir Path folder;

    @Test
    void root_doesNotWriteInTheFolderOfTheService() throws Exception {
        assumeTrue("root".equals(System.getProperty("user.name")), "only root can give files away");
        Files.setOwner(
                folder,
                folder.getFileSystem()
                        .getUserPrincipalLookupService()
                        .lookupPrincipalByName("nobody"));
        assertThatThrownBy(() -> DataFolder.take(folder))
                .isInstanceOf(OutboxRefused.class)
                .hasMessageContaining("sudo -u nobody");
        assertThat(folder).isEmptyDirectory();
    }
}
