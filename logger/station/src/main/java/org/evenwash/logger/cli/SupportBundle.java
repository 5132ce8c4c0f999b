package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Census;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.DatabaseTrouble;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "support-bundle",
        description = {
            "Packs what somebody needs who helps: versions, sizes, reasons of trouble, the services' journal.",
            "No password, colony or count; the journal names who signed in and benches. It is plain text: look inside first."
        },
        mixinStandardHelpOptions = true)
final class SupportBundle implements Callable<Integer> {
    private static final int JOURNAL_LINES = 2_000;
    private static final int JOURNAL_PATIENCE_S = 20;

    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "FILE.zip", description = "Must not be there yet.")
    Path file;

    @Override
    public Integer call() {
        try (OutputStream out = Files.newOutputStream(file, StandardOpenOption.CREATE_NEW)) {
            pack(out);
        } catch (IOException e) {
            throw new BadInput(file + " cannot be written (" + e + "); name a new file");
        }
        spec.commandLine()
                .getOut()
                .println(
                        "Written: " + file + ". It is plain text; look inside before you send it.");
        spec.commandLine().getOut().flush();
        return ExitCode.RESULT;
    }

    /** Half a bundle would only be in the way of the next one. */
    private void pack(OutputStream out) throws IOException {
        boolean whole = false;
        try (ZipOutputStream bundle = new ZipOutputStream(out)) {
            put(bundle, "program.txt", program());
            put(bundle, "folder.txt", folder());
            put(bundle, "database.txt", database());
            put(bundle, "journal.txt", journal());
            bundle.finish();
            whole = true;
        } finally {
            if (!whole) {
                Files.deleteIfExists(file);
            }
        }
    }

    private static void put(ZipOutputStream bundle, String name, String text) throws IOException {
        bundle.putNextEntry(new ZipEntry(name));
        bundle.write(text.getBytes(StandardCharsets.UTF_8));
        bundle.closeEntry();
    }

    private static String program() {
        Runtime runtime = Runtime.getRuntime();
        return """
                written: %s
                program: %s
                java: %s, %s
                system: %s %s, %s, %d processors, heap at most %d MB
                """
                .formatted(
                        Instant.now(),
                        String.join(" ", new Main.Version().getVersion()),
                        System.getProperty("java.runtime.version"),
                        System.getProperty("java.vendor"),
                        System.getProperty("os.name"),
                        System.getProperty("os.version"),
                        System.getProperty("os.arch"),
                        runtime.availableProcessors(),
                        runtime.maxMemory() >> 20);
    }

    /** Names and sizes; photos and what the broker keeps only as a sum. */
    private String folder() {
        try (Stream<Path> inside = Files.list(data.folder)) {
            FileStore store = Files.getFileStore(data.folder);
            return "free: %d of %d MB%n"
                            .formatted(store.getUsableSpace() >> 20, store.getTotalSpace() >> 20)
                    + inside.sorted()
                            .map(path -> "%12d  %s%n".formatted(size(path), path.getFileName()))
                            .collect(Collectors.joining());
        } catch (IOException | UncheckedIOException e) {
            return "the folder cannot be read: " + e + "\n";
        }
    }

    private static long size(Path path) {
        try (Stream<Path> inside = Files.walk(path)) {
            return inside.filter(Files::isRegularFile)
                    .mapToLong(each -> each.toFile().length())
                    .sum();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A database that cannot be opened is the very case that a bundle is for. */
    private String database() {
        StringBuilder text = new StringBuilder();
        try (Database database = data.open()) {
            return database.read(
                    handle -> {
                        text.append("migrations:\n");
                        Census.migrations(handle)
                                .forEach(each -> text.append("  ").append(each).append('\n'));
                        text.append("rows:\n");
                        Census.rows(handle, database.sqlite())
                                .forEach(
                                        (table, rows) ->
                                                text.append("%12d  %s%n".formatted(rows, table)));
                        text.append("benches:\n");
                        Benches.all(handle).forEach(bench -> text.append(line(bench)));
                        text.append("numbers missing:\n");
                        some(OutboxNumbers.gaps(handle), SupportBundle::line, text);
                        text.append("numbers used twice, as by a copied memory card:\n");
                        some(OutboxNumbers.clashes(handle, null), SupportBundle::line, text);
                        text.append("set aside, the newest:\n");
                        SetAsides.list(handle, new Page(1, Page.MOST))
                                .rows()
                                .forEach(each -> text.append(line(each)));
                        return text.toString();
                    });
        } catch (DatabaseTrouble | BadInput e) {
            return e.getMessage() + "\n";
        } catch (RuntimeException e) {
            // One damaged row must not keep the rest from whoever helps.
            return text + "\nthe rest cannot be read: " + Database.refusal(e) + "\n";
        }
    }

    private static String line(Bench bench) {
        return "  %s%s, added %s, last seen %s%n"
                .formatted(
                        bench.id(),
                        bench.simulated() ? " (simulated)" : "",
                        bench.addedAt(),
                        bench.lastSeenAt());
    }

    private static <T> void some(List<T> all, Function<T, String> line, StringBuilder text) {
        all.stream().limit(Page.MOST).map(line).forEach(text::append);
        if (all.size() > Page.MOST) {
            text.append("  and %d more%n".formatted(all.size() - Page.MOST));
        }
    }

    private static String line(OutboxNumbers.Gap gap) {
        return "  %s, outbox %s: %d to %d%n"
                .formatted(gap.benchId(), gap.outboxId(), gap.from(), gap.to());
    }

    private static String line(OutboxNumbers.Clash clash) {
        return "  %s%s, outbox %s: %d in %d messages, the last of %s%n"
                .formatted(
                        clash.benchId(),
                        clash.otherBenchId().equals(clash.benchId())
                                ? ""
                                : " and " + clash.otherBenchId(),
                        clash.outboxId(),
                        clash.sequence(),
                        clash.messages(),
                        clash.lastAt());
    }

    private static String line(SetAside message) {
        return "  %s %s %d bytes: %s%n"
                .formatted(
                        message.receivedAt(),
                        message.topic(),
                        message.size_bytes(),
                        message.reason());
    }

    private static String journal() {
        List<String> command =
                List.of(
                        "journalctl",
                        "--unit",
                        "evenwash-logger",
                        "--unit",
                        "evenwash-controller",
                        "--lines",
                        String.valueOf(JOURNAL_LINES),
                        "--no-pager",
                        "--quiet");
        try {
            Path text = Files.createTempFile("evenwash-journal", ".txt");
            try {
                Process process =
                        new ProcessBuilder(command)
                                .redirectErrorStream(true)
                                .redirectOutput(text.toFile())
                                .start();
                if (!process.waitFor(JOURNAL_PATIENCE_S, TimeUnit.SECONDS)) {
                    process.destroyForcibly();
                }
                return Files.readString(text);
            } finally {
                Files.delete(text);
            }
        } catch (IOException e) {
            return "no journal here (" + e.getMessage() + "); add what the program printed\n";
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return "the journal was not waited for\n";
        }
    }
}
