package org.evenwash.logger.intake;

import static java.nio.charset.StandardCharsets.UTF_8;
import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import javax.net.ssl.SSLException;
import org.evenwash.logger.broker.Broker;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.tls.Trust;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Strangers at the embedded broker's port: what they send before they have signed in costs next to nothing. */
class BrokerGateTest {
    private static final String BENCH = "shed-1";
    private static final String PASSWORD = "words of the shed";
    private static final int CONNACK = 0x20;
    private static final int SUBACK = 0x90;
    private static final int END = -1;

    private static final byte[] POST =
            "POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 2000000000\r\n\r\n".getBytes(UTF_8);
    private static final byte[] SUBSCRIBE = subscribe("evenwash/v1/shed-1/command");

    /** CONNECT and PUBLISH that say they are 200 MB long, and one whose length never ends. */
    private static final byte[] LONG_CONNECT = bytes(0x10, 0x80, 0x84, 0xAF, 0x5F, 0, 4, 'M', 'Q');

    private static final byte[] LONG_PUBLISH = bytes(0x32, 0x80, 0x84, 0xAF, 0x5F, 0, 4, 'a', 'b');
    private static final byte[] ENDLESS = bytes(0x10, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF);

    @TempDir Path folder;

    @Test
    void whatIsNoSmallConnect_isHungUpOnAtOnce() throws Exception {
        try (Broker broker = broker(null)) {
            for (byte[] first : List.of(POST, LONG_CONNECT, ENDLESS, LONG_PUBLISH, SUBSCRIBE)) {
                try (Socket stranger = socket(broker, 5)) {
                    send(stranger, first);
                    assertThat(next(stranger)).isEqualTo(END);
                }
            }
        }
    }

    @Test
    void whoDoesNotSignInSoon_isHungUpOn() throws Exception {
        byte[] connect = connect(PASSWORD);
        try (Broker broker = broker(null);
                Socket silent = socket(broker, 15);
                Socket half = socket(broker, 15);
                Socket wrong = socket(broker, 15)) {
            half.getOutputStream().write(connect, 0, connect.length / 2);
            send(wrong, connect("guess"));
            while (next(wrong) != END) {
                // the refusal
            }
            assertThat(next(silent)).isEqualTo(END);
            assertThat(next(half)).isEqualTo(END);
        }
    }

    @Test
    void manyWhoOnlyConnect_keepNobodyOut() throws Exception {
        List<Socket> silent = new ArrayList<>();
        try (Broker broker = broker(null)) {
            for (int i = 0; i < 300; i++) {
                silent.add(socket(broker, 5));
            }
            assertThat(next(silent.get(0))).isEqualTo(END);
            try (PlainBench bench = new PlainBench(broker.address(), BENCH, PASSWORD)) {
                assertThat(bench.isConnected()).isTrue();
            }
        } finally {
            for (Socket socket : silent) {
                socket.close();
            }
        }
    }

    /** MQTT allows to send on before the answer came; then it is read, but not before. */
    @Test
    void whatComesWithConnect_waitsForTheWelcome() throws Exception {
        try (Broker broker = broker(null);
                Socket bench = socket(broker, 10);
                Socket stranger = socket(broker, 10)) {
            send(bench, connect(PASSWORD), SUBSCRIBE);
            assertThat(answer(bench)).isEqualTo(CONNACK);
            assertThat(answer(bench)).isEqualTo(SUBACK);

            send(stranger, connect("guess"), SUBSCRIBE);
            assertThat(answer(stranger)).isEqualTo(CONNACK);
            assertThat(next(stranger)).isEqualTo(END);
        }
    }

    @Test
    void benchThatSendsAGiant_orSignsInTwice_isHungUpOn() throws Exception {
        try (Broker broker = broker(null)) {
            for (byte[] packet : List.of(LONG_PUBLISH, connect(PASSWORD))) {
                try (Socket bench = socket(broker, 10)) {
                    send(bench, connect(PASSWORD));
                    assertThat(answer(bench)).isEqualTo(CONNACK);
                    send(bench, packet);
                    assertThat(next(bench)).isEqualTo(END);
                }
            }
        }
    }

    @Test
    void withTls_theGateIsTheSame() throws Exception {
        Path tls = folder.resolve("tls");
        Authority authority = new Authority(tls, Clock.systemUTC());
        authority.create("a test");
        authority.issue(Server.BROKER, Set.of());
        try (Broker broker = broker(Server.BROKER.in(tls));
                Socket silent = socket(broker, 15);
                Socket shaken = secure(broker, authority, 15)) {
            for (byte[] first : List.of(POST, LONG_CONNECT, SUBSCRIBE)) {
                try (Socket stranger = secure(broker, authority, 5)) {
                    send(stranger, first);
                    assertThat(next(stranger)).isEqualTo(END);
                }
            }
            try (Socket bench = secure(broker, authority, 10)) {
                send(bench, connect(PASSWORD), SUBSCRIBE);
                assertThat(answer(bench)).isEqualTo(CONNACK);
                assertThat(answer(bench)).isEqualTo(SUBACK);
            }
            assertThat(next(silent)).isEqualTo(END);
            assertThat(next(shaken)).isEqualTo(END);
        }
    }

    private Broker broker(Identity identity) {
        return Broker.start(
                folder.resolve("broker"),
                "127.0.0.1",
                0,
                identity,
                (bench, password) -> password.equals(PASSWORD));
    }

    private static Socket socket(Broker broker, int patience_s) throws IOException {
        Socket socket = new Socket(InetAddress.getLoopbackAddress(), broker.port());
        socket.setSoTimeout((int) SECONDS.toMillis(patience_s));
        return socket;
    }

    private static Socket secure(Broker broker, Authority authority, int patience_s)
            throws IOException {
        Socket socket =
                Trust.in(authority.trust())
                        .createSocket(socket(broker, patience_s), "127.0.0.1", broker.port(), true);
        socket.setSoTimeout((int) SECONDS.toMillis(patience_s));
        return socket;
    }

    private static void send(Socket socket, byte[]... packets) throws IOException {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        for (byte[] packet : packets) {
            all.write(packet);
        }
        socket.getOutputStream().write(all.toByteArray());
    }

    /** First byte of the next packet, which is read whole. */
    private static int answer(Socket socket) throws IOException {
        int kind = next(socket);
        int length = next(socket);
        for (int i = 0; i < length; i++) {
            next(socket);
        }
        return kind;
    }

    private static int next(Socket socket) throws IOException {
        try {
            return socket.getInputStream().read();
        } catch (SSLException | SocketException cutOff) {
            return END;
        }
    }

    /** As of MQTT 3.1.1. */
    private static byte[] connect(String password) {
        return packet(
                0x10,
                body -> {
                    body.writeUTF("MQTT");
                    body.write(bytes(4, 0xC2, 0, 30));
                    body.writeUTF("evenwash-bench-" + BENCH);
                    body.writeUTF(BENCH);
                    body.writeUTF(password);
                });
    }

    private static byte[] subscribe(String filter) {
        return packet(
                0x82,
                body -> {
                    body.writeShort(1);
                    body.writeUTF(filter);
                    body.write(1);
                });
    }

    @FunctionalInterface
    private interface Body {
        void writeTo(DataOutputStream out) throws IOException;
    }

    private static byte[] packet(int kind, Body body) {
        ByteArrayOutputStream content = new ByteArrayOutputStream();
        try {
            body.writeTo(new DataOutputStream(content));
        } catch (IOException e) {
            throw new AssertionError(e);
        }
        ByteArrayOutputStream packet = new ByteArrayOutputStream();
        packet.write(kind);
        packet.write(content.size());
        packet.writeBytes(content.toByteArray());
        return packet.toByteArray();
    }

    private static byte[] bytes(int... values) {
        byte[] bytes = new byte[values.length];
        for (int i = 0; i < values.length; i++) {
            bytes[i] = (byte) values[i];
        }
        return bytes;
    }
}
