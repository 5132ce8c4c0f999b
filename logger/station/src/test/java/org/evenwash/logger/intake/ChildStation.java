package org.evenwash.logger.intake;

import static java.util.concurrent.TimeUnit.SECONDS;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/** {@code evenwash-logger serve} as a process of its own, so that it can be killed. */
final class ChildStation implements AutoCloseable {
    private final Process process;
    private final Path log;

    ChildStation(Path data, String... options) throws IOException {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(shippedFlags());
        // The tests' own setting hides what is awaited here.
        command.add("-Dlogback.configurationFile=logback.xml");
        command.addAll(List.of("-jar", "target/evenwash-logger.jar"));
        command.addAll(List.of("serve", "--data", data.toString(), "--port", "0"));
        command.addAll(List.of(options));
        log = data.resolveSibling("station-" + System.nanoTime() + ".log");
        process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(log.toFile())
                        .start();
    }

    /** Behind all that a broker sends first: where much waits there, most of it is written by then. */
    ChildStation connected() {
        await("station: see " + log)
                .atMost(180, SECONDS)
                .until(() -> Files.readString(log).contains("connected to the broker"));
        return this;
    }

    /** As the package starts it, but for the archive of classes, which is made when it is installed. */
    private static List<String> shippedFlags() throws IOException {
        String script = Files.readString(Path.of("src/deb/evenwash-logger.sh"));
        return Stream.of(script.split("[\\s\\\\]+"))
                .filter(word -> word.startsWith("-X"))
                .filter(
                        word ->
                                !word.startsWith("-XX:SharedArchiveFile")
                                        && !word.startsWith("-Xlog"))
                .toList();
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
