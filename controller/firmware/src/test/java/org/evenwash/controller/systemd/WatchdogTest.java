package org.evenwash.controller.systemd;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WatchdogTest {
    /** Binds the socket, says so, and prints what comes. */
    private static final String RECEIVER =
            """
            import socket, sys
            s = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
            s.bind(sys.argv[1].replace("@", "\\0", 1))
            s.settimeout(60)
            print("bound", flush=True)
            for _ in range(2):
                print(repr(s.recv(100).decode()), flush=True)
            """;

    @TempDir Path folder;
    private final AtomicLong scans = new AtomicLong();
    private final List<String> said = new ArrayList<>();
    private final Watchdog watchdog = new Watchdog(scans::get, said::add);

    @Test
    void beforeTheFirstScan_nothingIsSaid() {
        watchdog.look();
        assertThat(said).isEmpty();
    }

    @Test
    void firstScan_isReady_furtherOnesFeedTheWatchdog() {
        scans.set(1);
        watchdog.look();
        scans.set(101);
        watchdog.look();
        scans.set(201);
        watchdog.look();
        assertThat(said).containsExactly("READY=1\nWATCHDOG=1", "WATCHDOG=1", "WATCHDOG=1");
    }

    @Test
    void hungScan_isNotSpokenFor_untilItGoesOn() {
        scans.set(1);
        watchdog.look();
        said.clear();
        for (int look = 0; look < 100; look++) {
            watchdog.look();
        }
        assertThat(said).isEmpty();
        scans.set(2);
        watchdog.look();
        assertThat(said).containsExactly("WATCHDOG=1");
    }

    @Test
    void looks_comeFourTimesInTheTimeAllowed_andOnceASecondAtLeast() {
        assertThat(Watchdog.period_ms("2000000")).isEqualTo(500);
        assertThat(Watchdog.period_ms("10000000")).isEqualTo(1_000);
        assertThat(Watchdog.period_ms(null)).isEqualTo(1_000);
        assertThat(Watchdog.period_ms("soon")).isEqualTo(1_000);
    }

    @Test
    void withoutAServiceManager_thereIsNoWatchdog() {
        assertThat(Watchdog.start(Map.of(), scans::get)).isEmpty();
        assertThat(Watchdog.start(Map.of("NOTIFY_SOCKET", ""), scans::get)).isEmpty();
    }

    @Test
    void messages_arriveAtASocketInAFolder_andAtAnAbstractOne() throws Exception {
        arrivesAt(folder.resolve("notify").toString());
        arrivesAt("@evenwash-test-" + ProcessHandle.current().pid());
    }

    private static void arrivesAt(String socket) throws Exception {
        Process receiver =
                new ProcessBuilder("python3", "-c", RECEIVER, socket)
                        .redirectErrorStream(true)
                        .start();
        try (BufferedReader lines =
                new BufferedReader(
                        new InputStreamReader(receiver.getInputStream(), StandardCharsets.UTF_8))) {
            assertThat(lines.readLine()).isEqualTo("bound");
            AtomicLong running = new AtomicLong();
            // Each look sees another number: a scan that goes on.
            try (Watchdog started =
                    Watchdog.start(
                                    Map.of("NOTIFY_SOCKET", socket, "WATCHDOG_USEC", "200000"),
                                    running::incrementAndGet)
                            .orElseThrow()) {
                assertThat(started).isNotNull();
                assertThat(lines.readLine()).isEqualTo("'READY=1\\nWATCHDOG=1'");
                assertThat(lines.readLine()).isEqualTo("'WATCHDOG=1'");
            }
        } finally {
            receiver.destroyForcibly().onExit().join();
        }
    }

    @Test
    void socketThatNobodyListensAt_isToldWithItsName() {
        NotifySocket nobody = new NotifySocket(folder.resolve("nobody").toString());
        assertThatThrownBy(() -> nobody.say("READY=1")).hasMessageContaining("NOTIFY_SOCKET");
        assertThatThrownBy(() -> new NotifySocket("/" + "x".repeat(200)))
                .hasMessageContaining("at most 107");
    }
}
