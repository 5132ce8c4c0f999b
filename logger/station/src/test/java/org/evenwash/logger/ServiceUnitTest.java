package org.evenwash.logger;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** Who the logger's service is and what it cannot do; {@code .ci/packages} has systemd judge the whole. */
class ServiceUnitTest {
    private static final Path DEB = Path.of("src/deb");

    @Test
    void service_isAUserOfItsOwn_withoutAnyDevice_andComesBack() throws Exception {
        assertThat(Files.readAllLines(DEB.resolve("evenwash-logger.service")))
                .contains(
                        "User=evenwash-logger",
                        "NoNewPrivileges=yes",
                        "CapabilityBoundingSet=",
                        "ProtectSystem=strict",
                        "ProtectHome=yes",
                        "PrivateDevices=yes",
                        "SystemCallFilter=@system-service",
                        "UMask=0027",
                        "Restart=on-failure",
                        "RestartSec=5")
                .noneMatch(line -> line.startsWith("SupplementaryGroups"));
    }

    /** Else glibc keeps a pool for every few threads, and each grows to the most that was ever in use. */
    @Test
    void memoryOutsideTheHeap_comesFromTwoPools() throws Exception {
        assertThat(Files.readAllLines(DEB.resolve("evenwash-logger.sh")))
                .contains("export MALLOC_ARENA_MAX=2");
    }
}
