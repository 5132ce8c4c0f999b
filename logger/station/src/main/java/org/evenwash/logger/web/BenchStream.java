package org.evenwash.logger.web;

import io.javalin.http.sse.SseClient;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.wash.Workplace;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Live parts of the bench page as server-sent events. Messages of benches only mark a bench as
 * changed; one thread draws the marked ones a few times a second and sends a part only where it
 * differs from what was sent before, so that a button is never exchanged under a thumb.
 */
final class BenchStream implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(BenchStream.class);
    private static final int MOST_WATCHERS = 50;
    private static final long PERIOD_MS = 300;
    private static final long SIGN_OF_LIFE_PERIODS = 50;
    private static final List<String> PARTS =
            List.of("state", "live", "controls", "detail", "cycles");

    private final FrontDesk desk;
    private final Workplace place;
    private final BenchPage benches;
    private final AutoCloseable listening;
    private final Map<SseClient, Watcher> watchers = new ConcurrentHashMap<>();
    private final Set<String> changed = ConcurrentHashMap.newKeySet();
    private final ScheduledExecutorService painter =
            Executors.newSingleThreadScheduledExecutor(
                    work -> {
                        Thread thread = new Thread(work, "bench-stream");
                        thread.setDaemon(true);
                        return thread;
                    });
    private final ScheduledFuture<?> painting;
    private long periods;

    /** One open page: its shell, each part as it was last sent, and whether it may still be read. */
    private record Watcher(Shell page, Map<String, String> sent, BooleanSupplier stillIn) {}

    BenchStream(FrontDesk desk, Workplace place, BenchPage benches, BenchBoard board) {
        this.desk = desk;
        this.place = place;
        this.benches = benches;
        listening = board.listen(standing -> changed.add(standing.benchId()));
        painting =
                painter.scheduleAtFixedRate(
                        this::paint, PERIOD_MS, PERIOD_MS, TimeUnit.MILLISECONDS);
    }

    void open(SseClient client) {
        if (watchers.size() >= MOST_WATCHERS) {
            client.sendEvent("full", "too many pages are open");
            client.close();
            return;
        }
        Shell page = desk.shell(client.ctx(), "", "bench");
        client.keepAlive();
        client.onClose(() -> watchers.remove(client));
        watchers.put(client, new Watcher(page, new HashMap<>(), desk.stillIn(client.ctx())));
        place.benches().benches().forEach(bench -> changed.add(bench.id()));
    }

    private void paint() {
        try {
            boolean signOfLife = ++periods % SIGN_OF_LIFE_PERIODS == 0;
            List<String> ids = List.copyOf(changed);
            changed.removeAll(ids);
            for (String id : ids) {
                if (!watchers.isEmpty()) {
                    BenchPage.Bench bench = benches.bench(place.benches().bench(id));
                    watchers.forEach((client, watcher) -> send(client, watcher, bench));
                }
            }
            if (signOfLife) {
                watchers.forEach(BenchStream::signOfLife);
            }
        } catch (RuntimeException e) {
            // An exception would end the schedule for every open page; the next change is drawn
            // again.
            LOG.warn("a change at a bench could not be shown", e);
        }
    }

    /** Whoever signed out meanwhile is sent nothing more. */
    private static void signOfLife(SseClient client, Watcher watcher) {
        if (watcher.stillIn().getAsBoolean()) {
            client.sendComment("here");
        } else {
            client.close();
        }
    }

    private void send(SseClient client, Watcher watcher, BenchPage.Bench bench) {
        for (String part : PARTS) {
            if (client.terminated()) {
                return; // the page was left, perhaps while the part before was sent
            }
            String name = "bench" + Character.toUpperCase(part.charAt(0)) + part.substring(1);
            // A form's one-time key differs in every drawing and says nothing about a change.
            String drawn =
                    desk.render("parts/" + name, Map.of("page", watcher.page(), "bench", bench));
            String compared = drawn.replaceAll("name=\"idempotencyKey\" value=\"[^\"]*\"", "");
            if (!compared.equals(watcher.sent().put(part, compared))) {
                client.sendEvent(part + "-" + bench.id(), drawn);
            }
        }
    }

    @Override
    public void close() {
        try {
            listening.close();
        } catch (Exception e) { // AutoCloseable's own signature
            throw new IllegalStateException("cannot stop listening to the benches", e);
        }
        painting.cancel(false);
        painter.shutdownNow();
        watchers.keySet().forEach(SseClient::close);
    }
}
