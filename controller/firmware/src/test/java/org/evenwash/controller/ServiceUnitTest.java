package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The service unit as systemd and Java read it. */
class ServiceUnitTest {
    private static final Path UNIT =
            Path.of("../../hardware-notes/service/evenwash-controller.service");
    private static final Path SYSTEMD_ANALYZE = Path.of("/usr/bin/systemd-analyze");

    @TempDir Path folder;

    @Test
    void unit_isReadBySystemdWithoutComplaint() throws Exception {
        assumeThat(SYSTEMD_ANALYZE).isExecutable();
        // What it starts is installed by the package only.
        String text = Files.readString(UNIT).replace("/usr/bin/evenwash-controller", "/bin/true");
        Path unit = Files.writeString(folder.resolve("evenwash-controller.service"), text);
        assertThat(said(List.of(SYSTEMD_ANALYZE.toString(), "verify", unit.toString()))).isEmpty();
    }

    @Test
    void scan_hasRealTimePriority_belowTheKernelsOwnThreads() throws Exception {
        // Threaded interrupts run at 50: linux, kernel/irq/manage.c, sched_set_fifo (from memory).
        assertThat(Files.readAllLines(UNIT))
                .contains("CPUSchedulingPolicy=fifo", "CPUSchedulingPriority=20");
    }

    /** The program must be able to tell, and the stop that SIGTERM asks for must fit into its time. */
    @Test
    void watchdog_isFedByTheProgramItself() throws Exception {
        assertThat(Files.readAllLines(UNIT))
                .contains(
                        "Type=notify", "NotifyAccess=main", "WatchdogSec=10", "TimeoutStopSec=20");
        assertThat(Files.readString(Path.of("src/deb/evenwash-controller.sh")))
                .as("the main process is Java itself")
                .contains("\nexec /usr/bin/java");
    }

    /** Who it is and what it cannot do; {@code .ci/packages} has systemd judge the whole. */
    @Test
    void service_isAUserOfItsOwn_withTheBusesAlone_andComesBack() throws Exception {
        assertThat(Files.readAllLines(UNIT))
                .contains(
                        "User=evenwash",
                        "SupplementaryGroups=gpio i2c",
                        "NoNewPrivileges=yes",
                        "CapabilityBoundingSet=",
                        "ProtectSystem=strict",
                        "ProtectHome=yes",
                        "DevicePolicy=closed",
                        "SystemCallFilter=@system-service",
                        "Restart=on-failure",
                        "RestartSec=10",
                        "StartLimitIntervalSec=0");
    }

    @Test
    void flags_areKnownToJava() throws Exception {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(ShippedFlags.read());
        command.add("--version");
        assertThat(ShippedFlags.read()).contains("-XX:+UseSerialGC").hasSizeGreaterThan(5);
        assertThat(said(command)).doesNotContain("Unrecognized").contains("OpenJDK");
    }

    @Test
    void archiveIsMade_withFlagsOfTheService() throws Exception {
        assertThat(ShippedFlags.read()).containsAll(ArchiveCommand.AS_THE_SERVICE);
    }

    private static String said(List<String> command) throws Exception {
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String text =
                new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
        assertThat(process.waitFor()).as(text).isZero();
        return text;
    }
}
