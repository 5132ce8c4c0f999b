package org.evenwash.demo;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.Map;
import java.util.UUID;

/** The logger's HTTP interface as any program would use it; the pages' forms post there too. */
final class Api {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Duration PATIENCE = Duration.ofSeconds(20);

    private final HttpClient client =
            HttpClient.newBuilder()
                    .cookieHandler(new CookieManager())
                    .connectTimeout(PATIENCE)
                    .build();
    private final URI logger;
    private final String token;

    Api(URI logger) {
        this.logger = logger;
        this.token = get("/api/session").path("csrf").asText();
    }

    JsonNode get(String path) {
        return send(HttpRequest.newBuilder(logger.resolve(path)).GET());
    }

    /** Writes once, however often the request would be repeated on the way. */
    JsonNode post(String path, Map<String, ?> body) {
        try {
            return send(
                    HttpRequest.newBuilder(logger.resolve(path))
                            .header("Content-Type", "application/json")
                            .header("X-CSRF-Token", token)
                            .header("Idempotency-Key", UUID.randomUUID().toString())
                            .POST(
                                    HttpRequest.BodyPublishers.ofString(
                                            JSON.writeValueAsString(body))));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write the request to " + path, e);
        }
    }

    private JsonNode send(HttpRequest.Builder builder) {
        HttpRequest request =
                builder.header("Accept", "application/json").timeout(PATIENCE).build();
        try {
            var response = client.send(request, BodyHandlers.ofString());
            if (response.statusCode() >= 300) {
                throw new IllegalStateException(
                        "%s %s was answered with %d: %s"
                                .formatted(
                                        request.method(),
                                        request.uri().getPath(),
                                        response.statusCode(),
                                        response.body()));
            }
            return JSON.readTree(response.body());
        } catch (IOException e) {
            throw new UncheckedIOException("no answer from " + request.uri(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while waiting for " + request.uri(), e);
        }
    }
}
