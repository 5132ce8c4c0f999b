package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.evenwash.logger.Heap;
import org.evenwash.logger.Mutations;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Requests mutated from valid ones, over a real socket to every route of the table in turn: 100,000
 * with {@code mvn -Pfuzz}, one per cent otherwise. Whatever comes, the answer says what was wrong with
 * the request; none says that the program failed, and memory does not grow.
 */
@Tag("fuzz")
class WebFuzzTest {
    private static final int FULL_SIZE = 100_000;

    /** A fresh yard now and then: pages list all that was added, and would only get slower. */
    private static final int PER_YARD = 2_000;

    private static final int LOOK_EVERY = 100;

    private static final long SEED = 61_126;
    private static final long MOST_GROWTH_MB = 64;
    private static final ObjectMapper JSON = new ObjectMapper();

    /** Answers that blame the surroundings or an unknown method or version, and rightly so. */
    private static final List<Integer> RIGHTLY_ABOVE_500 = List.of(501, 503, 505);

    private static final List<String> METHODS =
            List.of("GET", "POST", "HEAD", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW");
    private static final List<String> TYPES =
            List.of(
                    "application/json",
                    "application/x-www-form-urlencoded",
                    "multipart/form-data; boundary=b",
                    "multipart/form-data",
                    "application/json; charset=utf-16",
                    "application/json; charset=no-such",
                    "text/plain",
                    "application/xml",
                    "/",
                    "");

    @TempDir Path folder;
    private final Map<Integer, Integer> answers = new TreeMap<>();
    private final List<String> failures = new ArrayList<>();

    @Test
    void noRequest_bringsTheServerDown() throws IOException {
        int size = FULL_SIZE * Integer.getInteger("evenwash.fuzz.percent", 1) / 100;
        long start_ns = System.nanoTime();
        long before_MB = 0;
        int done = 0;
        while (done < size && failures.isEmpty()) {
            Path place = Files.createDirectories(folder.resolve("yard-" + done));
            boolean first = done == 0;
            try (Scene scene = Scene.populated(place)) {
                scene.planADay();
                done = visit(scene, done, Math.min(done + PER_YARD, size));
            }
            before_MB = first ? Heap.used_MB() : before_MB;
        }
        long growth_MB = Heap.used_MB() - before_MB;
        System.out.printf(
                Locale.ROOT,
                "web fuzz: %d requests from seed %d, answers %s; heap grew by %d MB; %.0f s%n",
                size,
                SEED,
                answers,
                growth_MB,
                (System.nanoTime() - start_ns) * 1e-9);
        assertThat(failures).isEmpty();
        assertThat(answers.getOrDefault(200, 0)).as("valid ones got through").isPositive();
        assertThat(growth_MB).isLessThan(MOST_GROWTH_MB);
    }

    /** Up to request {@code end}, or until one has set the first password, as it may: then the yard is closed to it. */
    private int visit(Scene scene, int from, int end) throws IOException {
        FormFields fields = new FormFields(scene.database);
        RawClient client = RawClient.signedIn(scene);
        List<Route> routes = scene.server.routes();
        int i = from;
        while (i < end && (i % LOOK_EVERY != 0 || served(client, "/washes"))) {
            Random random = new Random(SEED + i);
            Route route = routes.get(i % routes.size());
            byte[] request = request(client, fields, route, random);
            int status = client.send(request);
            answers.merge(status, 1, Integer::sum);
            if (status >= 500 && !RIGHTLY_ABOVE_500.contains(status)) {
                failures.add(
                        "request %d of seed %d to %s got %d: %s"
                                .formatted(
                                        i,
                                        SEED,
                                        route.path(),
                                        status,
                                        new String(request, StandardCharsets.UTF_8)));
            }
            i++;
        }
        assertThat(i).as("a fresh yard is open").isGreaterThan(from);
        assertThat(served(client, "/health")).as("and afterwards it still serves").isTrue();
        return i;
    }

    private static boolean served(RawClient client, String path) throws IOException {
        return client.send(client.request("GET", path, "", new byte[0])) == 200;
    }

    private static byte[] request(RawClient client, FormFields fields, Route route, Random random) {
        String address = fields.address(route, random);
        if (random.nextInt(4) == 0) {
            address = mutatedAddress(address, random);
        }
        String method = route.method().name();
        if (random.nextInt(20) == 0) {
            method = METHODS.get(random.nextInt(METHODS.size()));
        }
        ObjectNode body = fields.body(route, random);
        byte[] bytes = json(body);
        String type = TYPES.get(0);
        if (!method.equals("GET")) {
            if (random.nextInt(3) > 0) {
                bytes = Mutations.of(bytes, random);
            }
            switch (random.nextInt(6)) {
                case 0 -> type = TYPES.get(random.nextInt(TYPES.size()));
                case 1, 2 -> {
                    type = TYPES.get(1);
                    bytes = form(body, random);
                }
                case 3 -> {
                    type = TYPES.get(2);
                    bytes = multipart(body, random);
                }
                default -> {}
            }
        } else {
            bytes = new byte[0];
        }
        StringBuilder more = new StringBuilder("Content-Type: " + type + "\r\n");
        if (random.nextInt(3) == 0) {
            more.append("Accept: text/html\r\nReferer: ").append(line(random)).append("\r\n");
        }
        if (random.nextInt(6) == 0) {
            more.append(header(random)).append(": ").append(line(random)).append("\r\n");
        }
        byte[] request = client.request(method, address, more.toString(), bytes);
        return random.nextInt(25) == 0 ? broken(request, random) : request;
    }

    private static String mutatedAddress(String address, Random random) {
        String text = URLEncoder.encode(Mutations.text(random), StandardCharsets.UTF_8);
        return switch (random.nextInt(6)) {
            case 0 -> address + "?" + query(random);
            case 1 -> address + "/" + text;
            case 2 -> address.substring(0, random.nextInt(address.length())) + "/" + text;
            case 3 -> address.replaceFirst("/", "/../");
            case 4 -> address + "?page=" + Mutations.number(random).replace("-", "%2D");
            default -> address.replaceAll("[0-9a-f]{4}-", text + "-");
        };
    }

    private static String query(Random random) {
        List<String> names =
                List.of(
                        "page",
                        "colony",
                        "apiary",
                        "bench",
                        "sort",
                        "theme",
                        "position",
                        "pass",
                        "x");
        return names.get(random.nextInt(names.size()))
                + "="
                + URLEncoder.encode(Mutations.text(random), StandardCharsets.UTF_8);
    }

    private static String header(Random random) {
        List<String> names =
                List.of(
                        "Accept-Language",
                        "Idempotency-Key",
                        "If-None-Match",
                        "Range",
                        "Cookie",
                        "X-Forwarded-For",
                        "X-CSRF-Token",
                        "Accept-Encoding",
                        "Accept",
                        "Expect",
                        "Transfer-Encoding",
                        "Upgrade");
        return names.get(random.nextInt(names.size()));
    }

    /** Header values are one line of bytes. */
    private static String line(Random random) {
        return Mutations.text(random).replaceAll("[\\r\\n]", " ");
    }

    private static byte[] json(ObjectNode body) {
        try {
            return JSON.writeValueAsBytes(body);
        } catch (IOException e) {
            throw new AssertionError("plain values always have a JSON form", e);
        }
    }

    private static String fieldValue(Map.Entry<String, ?> field, ObjectNode body, Random random) {
        return random.nextInt(5) == 0
                ? random.nextBoolean() ? Mutations.text(random) : Mutations.number(random)
                : body.get(field.getKey()).asText();
    }

    private static byte[] form(ObjectNode body, Random random) {
        String text =
                body.properties().stream()
                        .map(
                                field ->
                                        field.getKey()
                                                + "="
                                                + URLEncoder.encode(
                                                        fieldValue(field, body, random),
                                                        StandardCharsets.UTF_8))
                        .collect(Collectors.joining("&"));
        return switch (random.nextInt(8)) {
            case 0 -> (text + "&%zz=%").getBytes(StandardCharsets.UTF_8);
            case 1 -> (text + "&" + "a=1&".repeat(5_000)).getBytes(StandardCharsets.UTF_8);
            default -> text.getBytes(StandardCharsets.UTF_8);
        };
    }

    private static byte[] multipart(ObjectNode body, Random random) {
        StringBuilder text = new StringBuilder();
        for (Map.Entry<String, ?> field : body.properties()) {
            text.append("--b\r\nContent-Disposition: form-data; name=\"")
                    .append(field.getKey())
                    .append(random.nextInt(6) == 0 ? "\"; filename=\"" + line(random) : "")
                    .append("\"\r\n\r\n")
                    .append(fieldValue(field, body, random))
                    .append("\r\n");
        }
        if (random.nextInt(4) > 0) {
            text.append("--b--\r\n");
        }
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** No longer HTTP, or cut off. */
    private static byte[] broken(byte[] request, Random random) {
        int at = random.nextInt(Math.min(200, request.length));
        if (random.nextBoolean()) {
            return Arrays.copyOf(request, at);
        }
        byte[] changed = request.clone();
        changed[at] = (byte) random.nextInt(256);
        return changed;
    }
}
