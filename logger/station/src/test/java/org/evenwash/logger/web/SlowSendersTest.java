package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpRequest;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.evenwash.logger.secret.RandomSecret;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Strangers who send slowly, little over many connections, or what nobody asked for. */
class SlowSendersTest {
    private static final String FORM = "Content-Type: application/x-www-form-urlencoded\r\n";

    private static final String FILES = "multipart/form-data; boundary=b";

    private final List<Socket> open = new ArrayList<>();
    private Scene scene;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.empty(folder);
        scene.doors.accounts.first("ada", "Ada", Scene.PASSWORD);
    }

    @AfterEach
    void close() throws IOException {
        for (Socket socket : open) {
            socket.close();
        }
        scene.close();
    }

    private Socket begin(String head, String body) throws IOException {
        return begin(scene, head, body);
    }

    private Socket begin(Scene scene, String head, String body) throws IOException {
        Socket socket = new Socket(InetAddress.getLoopbackAddress(), scene.server.port());
        open.add(socket);
        socket.setSoTimeout(5_000);
        String request = head + " HTTP/1.1\r\nHost: localhost\r\n";
        socket.getOutputStream().write((request + body).getBytes(StandardCharsets.UTF_8));
        return socket;
    }

    /** The status that came, 0 if the server hung up or said nothing. */
    private static int status(Socket socket) {
        try {
            String answer =
                    new String(socket.getInputStream().readNBytes(12), StandardCharsets.UTF_8);
            return answer.length() < 12 ? 0 : Integer.parseInt(answer.substring(9));
        } catch (IOException e) {
            return 0;
        }
    }

    private int health() throws IOException {
        return status(begin("GET /health", "Connection: close\r\n\r\n"));
    }

    @Test
    void moreSlowSendersThanThreads_andItStillAnswers() throws IOException {
        for (int i = 0; i < 300; i++) {
            String length =
                    i % 2 == 0
                            ? "Content-Length: 1000\r\n\r\nname="
                            : "Transfer-Encoding: chunked\r\n\r\n5\r\nname=\r\n";
            begin(i % 3 == 0 ? "POST /sign-out" : "POST /sign-in", FORM + length);
        }
        assertThat(health()).isEqualTo(200);
    }

    @Test
    void strangersWhoSendTheFirstPartOfMuch_holdNoThreadEither() throws IOException {
        String much = "x".repeat(80_000);
        for (int i = 0; i < 300; i++) {
            begin("POST /sign-in", FORM + "Content-Length: 1000000\r\n\r\n" + much);
        }
        assertThat(health()).isEqualTo(200);
        assertThat(open.subList(0, 20)).extracting(SlowSendersTest::status).containsOnly(413);
    }

    @Test
    void slowSender_isServedOnceAllHasCome() throws IOException {
        String secret = RandomSecret.make();
        String fields =
                "name=ada&password="
                        + Visitor.encoded(Scene.PASSWORD)
                        + "&csrf="
                        + RandomSecret.derived("csrf", secret);
        Socket phone =
                begin(
                        "POST /sign-in",
                        FORM
                                + "Cookie: evenwash-session="
                                + secret
                                + "\r\nContent-Length: "
                                + fields.length()
                                + "\r\n\r\n");
        for (String part : fields.split("(?<=[&=])")) {
            phone.getOutputStream().write(part.getBytes(StandardCharsets.UTF_8));
            assertThat(health()).isEqualTo(200);
        }
        assertThat(status(phone)).isEqualTo(303);
    }

    @Test
    void connectionsBeyondTheBound_waitUntilOthersEnd() throws IOException {
        List<Socket> phones = new ArrayList<>();
        for (int i = 0; i < Senders.MOST_CONNECTIONS; i++) {
            Socket phone = begin("GET /health", "\r\n");
            assertThat(status(phone)).as("connection %d", i).isEqualTo(200);
            phones.add(phone);
        }
        Socket more = begin("GET /health", "Connection: close\r\n\r\n");
        more.setSoTimeout(500);
        assertThat(status(more)).isZero();
        for (Socket phone : phones.subList(0, 10)) {
            phone.close();
        }
        await().atMost(Duration.ofSeconds(10)).until(() -> health() == 200);
    }

    @Test
    void strangersForm_withAFile_isNotUnpacked() {
        String secret = RandomSecret.make();
        String form =
                "--b\r\nContent-Disposition: form-data; name=\"csrf\"\r\n\r\n"
                        + RandomSecret.derived("csrf", secret)
                        + "\r\n--b--\r\n";
        for (String path : List.of("/sign-in", "/sign-out", "/api/imports")) {
            var answer =
                    new Visitor(scene)
                            .send(
                                    new Visitor(scene)
                                            .request(path)
                                            .POST(HttpRequest.BodyPublishers.ofString(form))
                                            .header("Cookie", "evenwash-session=" + secret)
                                            .header("Accept", "application/json")
                                            .header("Content-Type", FILES));
            assertThat(answer.statusCode())
                    .as(path)
                    .isEqualTo(path.startsWith("/sign-") ? 415 : 401);
        }
    }

    @Test
    void strangersLargeFile_neverReachesTheDisk(@TempDir Path disk) throws Exception {
        String before = System.setProperty("java.io.tmpdir", disk.toString());
        try (Scene another = Scene.empty(Files.createDirectory(disk.resolve("data")))) {
            another.doors.accounts.first("ada", "Ada", Scene.PASSWORD);
            byte[] file = new byte[3 * 1_024 * 1_024];
            for (String path : List.of("/sign-in", "/sign-out", "/api/imports")) {
                Socket sender =
                        begin(
                                another,
                                "POST " + path,
                                "Content-Type: "
                                        + FILES
                                        + "\r\nContent-Length: 30000000\r\n\r\n--b\r\n"
                                        + "Content-Disposition: form-data; name=\"file\";"
                                        + " filename=\"f\"\r\n\r\n");
                try {
                    sender.getOutputStream().write(file);
                } catch (IOException hungUp) {
                    // As it may, once it has seen enough.
                }
                status(sender);
                assertThat(names(disk))
                        .as(path)
                        .noneMatch(name -> name.matches("(?i).*multipart.*"));
            }
        } finally {
            System.setProperty("java.io.tmpdir", before);
        }
    }

    private static List<String> names(Path disk) throws IOException {
        try (Stream<Path> files = Files.walk(disk)) {
            return files.map(file -> file.getFileName().toString()).toList();
        }
    }
}
