package org.evenwash.logger.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Locale;

/** A program that visits the server: keeps its cookie, fetches the token, posts JSON or a form. */
final class Visitor {
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Scene scene;
    private final HttpClient client =
            HttpClient.newBuilder().cookieHandler(new CookieManager()).build();
    private String token;

    private final String language;

    Visitor(Scene scene) {
        this(scene, Locale.UK.toLanguageTag());
    }

    Visitor(Scene scene, String language) {
        this.scene = scene;
        this.language = language;
    }

    /** Signs in through the form; the token of the session before is worthless afterwards. */
    HttpResponse<String> signIn(String name, String password) {
        HttpResponse<String> answer =
                form("/sign-in", "name=" + name + "&password=" + encoded(password));
        token = null;
        return answer;
    }

    static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    HttpResponse<String> get(String path) {
        return send(request(path).GET().header("Accept", "text/html"));
    }

    JsonNode json(String path) {
        return read(send(request(path).GET().header("Accept", "application/json")));
    }

    /** With the token of this visitor's session. */
    HttpResponse<String> post(String path, String json) {
        return send(write(path, json));
    }

    private HttpRequest.Builder write(String path, String json) {
        if (token == null) {
            token = json("/api/session").get("csrf").asText();
        }
        return request(path)
                .POST(HttpRequest.BodyPublishers.ofString(json))
                .header("Content-Type", "application/json")
                .header("X-CSRF-Token", token);
    }

    /** A plain form of a page, as sent by a browser without script. */
    HttpResponse<String> form(String path, String fields) {
        if (token == null) {
            token = json("/api/session").get("csrf").asText();
        }
        return send(
                request(path)
                        .POST(HttpRequest.BodyPublishers.ofString(fields + "&csrf=" + token))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .header("Referer", scene.address("/operators"))
                        .header("Accept", "text/html"));
    }

    HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(URI.create(scene.address(path)))
                .timeout(Duration.ofSeconds(20))
                .header("Accept-Language", language);
    }

    /** A file, byte for byte. */
    byte[] bytes(String path) {
        return send(request(path).GET(), HttpResponse.BodyHandlers.ofByteArray()).body();
    }

    /** As {@link #post}, where the answer is a file. */
    HttpResponse<byte[]> postForBytes(String path, String json) {
        return send(write(path, json), HttpResponse.BodyHandlers.ofByteArray());
    }

    HttpResponse<String> send(HttpRequest.Builder request) {
        return send(request, HttpResponse.BodyHandlers.ofString());
    }

    private <T> HttpResponse<T> send(
            HttpRequest.Builder request, HttpResponse.BodyHandler<T> handler) {
        try {
            return client.send(request.build(), handler);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while waiting for an answer", e);
        }
    }

    static JsonNode read(HttpResponse<String> answer) {
        try {
            return JSON.readTree(answer.body());
        } catch (IOException e) {
            throw new UncheckedIOException(answer.body(), e);
        }
    }
}
