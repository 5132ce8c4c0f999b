package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandler;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;

/** Asks for pages and sends forms with files, as a browser does, without holding a file in memory. */
final class BrowserLike {
    private static final Duration PATIENCE = Duration.ofMinutes(5);
    private static final String BOUNDARY = "----a-file-of-old-records";

    private final HttpClient client =
            HttpClient.newBuilder()
                    .version(HttpClient.Version.HTTP_1_1)
                    .cookieHandler(new CookieManager())
                    .build();
    private final URI logger;
    private final String token;

    BrowserLike(URI logger) {
        this.logger = logger;
        this.token = get("/api/session").replaceAll(".*\"csrf\":\"([^\"]+)\".*", "$1");
    }

    String get(String path) {
        return send(HttpRequest.newBuilder(logger.resolve(path)).GET(), BodyHandlers.ofString());
    }

    Path download(String path, Path to) {
        return send(HttpRequest.newBuilder(logger.resolve(path)).GET(), BodyHandlers.ofFile(to));
    }

    String post(String path, String json) {
        return send(
                writing(path, BodyPublishers.ofString(json))
                        .header("Content-Type", "application/json"),
                BodyHandlers.ofString());
    }

    String upload(String path, Path file) throws IOException {
        String head =
                "--"
                        + BOUNDARY
                        + "\r\nContent-Disposition: form-data; name=\"file\"; filename=\""
                        + file.getFileName()
                        + "\"\r\nContent-Type: text/csv\r\n\r\n";
        BodyPublisher body =
                BodyPublishers.concat(
                        BodyPublishers.ofByteArray(head.getBytes(StandardCharsets.UTF_8)),
                        BodyPublishers.ofFile(file),
                        BodyPublishers.ofString("\r\n--" + BOUNDARY + "--\r\n"));
        return send(
                writing(path, body)
                        .header("Content-Type", "multipart/form-data; boundary=" + BOUNDARY)
                        .header("Accept", "application/json"),
                BodyHandlers.ofString());
    }

    private HttpRequest.Builder writing(String path, BodyPublisher body) {
        return HttpRequest.newBuilder(logger.resolve(path))
                .header("X-CSRF-Token", token)
                .POST(body);
    }

    private <T> T send(HttpRequest.Builder builder, BodyHandler<T> handler) {
        try {
            HttpResponse<T> answer = client.send(builder.timeout(PATIENCE).build(), handler);
            if (answer.statusCode() >= 300) {
                throw new IllegalStateException(
                        answer.uri()
                                + " was answered with "
                                + answer.statusCode()
                                + ": "
                                + answer.body());
            }
            return answer.body();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
    }
}
