package org.evenwash.controller.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.evenwash.controller.Mosquitto;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.record.BenchState;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** TLS and password against a real broker: what lets a bench in, and what it is told otherwise. */
class BrokerLogInTest {
    private static final String BENCH = "bench-1";
    private static final String PASSWORD = "a password with spaces, ü";

    @TempDir static Path folder;
    private static ThrowAwayAuthority authority;
    private static ThrowAwayAuthority stranger;
    private static Mosquitto broker;
    private static int securePort;
    private static int otherNamePort;

    @BeforeAll
    static void start() throws Exception {
        authority = new ThrowAwayAuthority(folder.resolve("ours")).issue("ip:127.0.0.1");
        stranger = new ThrowAwayAuthority(folder.resolve("other")).issue("dns:elsewhere.example");
        Path passwords = folder.resolve("passwords");
        Process made =
                new ProcessBuilder(
                                "mosquitto_passwd",
                                "-b",
                                "-c",
                                passwords.toString(),
                                BENCH,
                                PASSWORD)
                        .inheritIO()
                        .start();
        assertThat(made.waitFor(20, TimeUnit.SECONDS)).isTrue();
        securePort = Mosquitto.freePort();
        otherNamePort = Mosquitto.freePort();
        broker =
                Mosquitto.start(
                        folder,
                        List.of(
                                listener(securePort, authority),
                                "allow_anonymous false",
                                "password_file " + passwords,
                                listener(otherNamePort, stranger),
                                "allow_anonymous true"));
    }

    private static String listener(int port, ThrowAwayAuthority by) {
        return "listener %d 127.0.0.1%ncertfile %s%nkeyfile %s"
                .formatted(port, by.server(), by.serverKey());
    }

    @AfterAll
    static void stop() {
        broker.close();
    }

    @Test
    void rightPasswordOverTls_connects() throws Exception {
        try (BrokerLink link = link(securePort, BENCH, PASSWORD, authority.certificate())) {
            await(link::connected);
            assertThat(link.lastTrouble()).isEmpty();
        }
    }

    @Test
    void wrongPassword_isTurnedAway_andToldSo() throws Exception {
        try (BrokerLink link = link(securePort, BENCH, "guessed", authority.certificate())) {
            await(() -> !link.lastTrouble().isEmpty());
            assertThat(link.connected()).isFalse();
            assertThat(link.lastTrouble()).containsIgnoringCase("not authorized");
        }
    }

    @Test
    void brokerOfAnotherAuthority_isNotTalkedTo() throws Exception {
        try (BrokerLink link = link(securePort, BENCH, PASSWORD, stranger.certificate())) {
            await(() -> !link.lastTrouble().isEmpty());
            assertThat(link.connected()).isFalse();
            assertThat(link.lastTrouble()).contains("trust anchors");
        }
    }

    @Test
    void certificateForAnotherName_isNotTalkedTo() throws Exception {
        try (BrokerLink link = link(otherNamePort, BENCH, PASSWORD, stranger.certificate())) {
            await(() -> !link.lastTrouble().isEmpty());
            assertThat(link.connected()).isFalse();
            assertThat(link.lastTrouble()).contains("127.0.0.1");
        }
    }

    @Test
    void passwordFileGone_isNamed_andItsReturnIsEnough() throws Exception {
        Path file = folder.resolve("late-password");
        Broker settings =
                new Broker(
                        "127.0.0.1",
                        securePort,
                        BENCH,
                        Optional.of(file),
                        true,
                        Optional.of(authority.certificate()));
        try (BrokerLink link = link(settings)) {
            await(() -> link.lastTrouble().contains(file.toString()));
            Files.writeString(file, PASSWORD + "\n");
            await(link::connected);
        }
    }

    private static BrokerLink link(int port, String user, String password, Path trusted)
            throws Exception {
        Path file = Files.createTempFile(folder, "password", "");
        Files.writeString(file, password + "\n");
        return link(
                new Broker("127.0.0.1", port, user, Optional.of(file), true, Optional.of(trusted)));
    }

    private static BrokerLink link(Broker settings) {
        BenchState idle = BenchState.offline(BENCH, true);
        return new BrokerLink(
                        settings, BENCH, true, (after, most) -> List.of(), () -> idle, (k, p) -> {})
                .start();
    }

    private static void await(java.util.concurrent.Callable<Boolean> wanted) {
        Awaitility.await()
                .atMost(Duration.ofSeconds(30))
                .pollInterval(Duration.ofMillis(20))
                .until(wanted);
    }
}
