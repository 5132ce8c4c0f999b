package org.evenwash.demo;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.evenwash.controller.SimulatedController;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.wash.By;

/**
 * Many simulated benches, washing without end, before one logger of its own process. A process too, driven by the lines
 * of {@link SoakBenches}.
 */
final class SoakYard implements AutoCloseable {
    static final String READY = "Benches ready";
    static final String WORK = "work";
    static final String REST = "rest";
    static final String RESTING = "The hands rest";
    static final String UNSENT = "unsent";
    static final String LEFT = "Without a receipt: ";

    private static final long TEND_EVERY_MS = 500;

    /** More washes than a bench may do between two proof tests come together in an hour here. */
    private static final String SETTINGS =
            """
            bench:
              id: %s
              dataFolder: %s
              recipe: twenty-seconds
            broker:
              host: 127.0.0.1
              port: %d
              user: %s
              passwordFile: %s
            safety:
              proofTestEvery_cycles: 10000
            """;

    private final List<Worker> workers = new ArrayList<>();
    private final ScheduledExecutorService hands = Executors.newScheduledThreadPool(2);
    private ScheduledFuture<?> tending;

    /** A bench and whether whoever works there has done what was begun. */
    private record Worker(SimulatedController bench, AtomicBoolean done) {
        void tend() {
            if (!done.get()) {
                return;
            }
            switch (bench.state()) {
                case IDLE, COMPLETE, STOPPED, ABORTED -> {
                    done.set(false);
                    bench.choose(Choice.ACKNOWLEDGE_CAUTIONS).press(Command.RESET).changeJars();
                    bench.press(Command.START).act(plant -> done.set(true));
                }
                case HELD -> {
                    done.set(false);
                    bench.press(Command.RESET).rearm().press(Command.RESTART);
                    bench.act(plant -> done.set(true));
                }
                case RUNNING, HOLDING, RESTARTING, STOPPING, ABORTING -> {}
            }
        }
    }

    /**
     * @param data the logger's folder, not in use at this moment
     * @param brokerPort where the benches will find the broker
     */
    SoakYard(Path folder, Path data, int benches, int brokerPort, double speed)
            throws IOException, MistakenFile, OutboxRefused {
        List<Configuration> all = new ArrayList<>();
        try (Station station = Station.start(StationConfig.inFolder(data))) {
            for (int i = 1; i <= benches; i++) {
                String id = "bench-" + i;
                Path place = Files.createDirectories(folder.resolve(id));
                Path password =
                        Files.writeString(
                                place.resolve("password"),
                                station.workplace().benches().admit(id, id, true, By.nobody()));
                Path settings =
                        Files.writeString(
                                place.resolve("bench.yaml"),
                                SETTINGS.formatted(id, place, brokerPort, id, password));
                all.add(ConfigurationFile.read(settings));
            }
        }
        for (Configuration config : all) {
            SimulatedController bench =
                    SimulatedController.start(
                            config,
                            new SimulatedController.Play(
                                    speed, workers.size() + 1, Instant.now(), false));
            workers.add(new Worker(bench, new AtomicBoolean(true)));
        }
    }

    void work() {
        tending =
                hands.scheduleWithFixedDelay(
                        () -> workers.forEach(Worker::tend),
                        0,
                        TEND_EVERY_MS,
                        TimeUnit.MILLISECONDS);
    }

    /** No new washes; what is under way comes to its end. */
    void rest() throws InterruptedException {
        if (tending.isDone()) {
            throw new AssertionError("the hands stopped by themselves: " + tending);
        }
        hands.shutdown();
        if (!hands.awaitTermination(30, TimeUnit.SECONDS)) {
            throw new AssertionError("the hands do not rest");
        }
        for (Worker worker : workers) {
            worker.bench().press(Command.STOP);
            worker.bench().openLid();
            worker.bench().removeJars();
        }
    }

    /** Messages without a receipt, of all benches. */
    long unsent() {
        return workers.stream().mapToLong(worker -> worker.bench().unsent()).sum();
    }

    @Override
    public void close() {
        hands.shutdownNow();
        workers.forEach(worker -> worker.bench().close());
    }

    public static void main(String[] arguments) throws Exception {
        try (SoakYard yard =
                        new SoakYard(
                                Path.of(arguments[0]),
                                Path.of(arguments[1]),
                                Integer.parseInt(arguments[2]),
                                Integer.parseInt(arguments[3]),
                                Double.parseDouble(arguments[4]));
                BufferedReader lines =
                        new BufferedReader(
                                new InputStreamReader(System.in, StandardCharsets.UTF_8))) {
            System.out.println(READY);
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                switch (line) {
                    case WORK -> yard.work();
                    case REST -> {
                        yard.rest();
                        System.out.println(RESTING);
                    }
                    case UNSENT -> System.out.println(LEFT + yard.unsent());
                    default -> throw new IllegalArgumentException(line);
                }
            }
        }
    }
}
