package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.cli.Main;

/** {@code evenwash-logger serve} as a process of its own, so that it can be killed. */
final class ChildStation implements AutoCloseable {
    private final Process process;

    ChildStation(Path data, String... options) throws IOException {
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                // As it ships; the tests' own setting hides what is awaited here.
                                "-Dlogback.configurationFile=logback.xml",
                                "-cp",
                                System.getProperty("java.class.path"),
                                Main.class.getName(),
                                "serve",
                                "--data",
                                data.toString(),
                                "--port",
                                "0"));
        command.addAll(List.of(options));
        Path log = data.resolveSibling("station-" + System.nanoTime() + ".log");
        process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(log.toFile())
                        .start();
        await("station: see " + log)
                .atMost(180, SECONDS)
                .until(() -> Files.readString(log).contains("connected to the broker"));
    }

    /** Processor time that it has used. */
    Duration cpu() {
        return process.info().totalCpuDuration().orElseThrow();
    }

    /** kill -9 */
    void kill() {
        process.destroyForcibly().onExit().join();
    }

    @Override
    public void close() {
        process.destroy();
        process.onExit()
                .orTimeout(20, SECONDS)
                .exceptionally(late -> process.destroyForcibly())
                .join();
    }
}
