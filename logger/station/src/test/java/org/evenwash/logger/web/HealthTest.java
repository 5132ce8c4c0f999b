package org.evenwash.logger.web;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a program that watches the logger is told. */
class HealthTest {
    private static final Pattern FREE =
            Pattern.compile("(?m)^evenwash_disk_free_bytes ([0-9.E]+)$");

    @TempDir Path folder;

    private static HttpResponse<String> get(WebServer server, String path) throws Exception {
        HttpRequest request = HttpRequest.newBuilder(server.address().resolve(path)).build();
        return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString());
    }

    @Test
    void stationAtWork_isUp_andTellsTheRoomOnItsDisk() throws Exception {
        try (Station station = Station.start(StationConfig.inFolder(folder));
                WebServer server = WebServer.start(station, WebSettings.loopback(0))) {
            await().atMost(20, SECONDS).until(station::isConnected);

            assertThat(get(server, "/health").statusCode()).isEqualTo(200);
            Matcher free = FREE.matcher(get(server, "/metrics").body());
            assertThat(free.find()).isTrue();
            assertThat(Double.parseDouble(free.group(1)))
                    .isBetween(1e6, (double) Files.getFileStore(folder).getTotalSpace());
        }
    }

    @Test
    void brokerThatIsNotReached_isDown() throws Exception {
        int closed;
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            closed = socket.getLocalPort();
        }
        StationConfig config =
                StationConfig.inFolder(folder)
                        .withBroker(URI.create("mqtt://127.0.0.1:" + closed), null, null);
        try (Station station = Station.start(config);
                WebServer server = WebServer.start(station, WebSettings.loopback(0))) {
            isDown(server);
        }
    }

    @Test
    void databaseThatIsGone_isDown() throws Exception {
        try (Scene scene = Scene.populated(folder)) {
            assertThat(get(scene.server, "/health").body()).isEqualTo("up\n");

            scene.database.close();

            isDown(scene.server);
        }
    }

    private static void isDown(WebServer server) throws Exception {
        HttpResponse<String> answer = get(server, "/health");
        assertThat(answer.statusCode()).isEqualTo(503);
        assertThat(answer.body()).isEqualTo("down\n");
    }
}
