package org.evenwash.controller;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/**
 * Makes Java's class archive of this program: a file from which the next start maps its classes instead of reading, checking
 * and laying out each. It fits one Java and one jar only; with any other, Java passes over it and starts as without.
 */
@Command(
        name = "archive",
        description = {
            "Makes a class archive, with which later starts are faster and take less memory.",
            "It belongs to this Java and this jar: make it again when either changes."
        },
        mixinStandardHelpOptions = true)
final class ArchiveCommand implements Callable<Integer> {
    /**
     * Of the service's flags. Made with its collector, the archive holds no objects of the heap: a
     * heap of any size takes it, and with this one the rehearsal has as much room as the service.
     */
    static final List<String> AS_THE_SERVICE =
            List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-Xmx32m");

    /** A rehearsal sees most classes in use; these need a real board. */
    private static final List<String> ONLY_ON_A_BOARD =
            List.of("org/evenwash/controller/pi4j/", "com/pi4j/");

    /** One wash, ended early, at a simulated bench; nobody listens at this port, and nothing is sent. */
    private static final String UNUSED_PORT = "9";

    private static final String ACTS =
            "ack\npause 1\nstart\npause 3\nhold\npause 3\nstop\nwait STOPPED 20\nquit\n";

    private static final long LONGEST_MIN = 5;

    @Spec private CommandSpec spec;

    @Parameters(
            paramLabel = "FILE",
            description =
                    "The archive. Java takes it by -XX:SharedArchiveFile=FILE; written whole or not at all.")
    private Path archive;

    @Override
    public Integer call() throws IOException, InterruptedException {
        Path jar = jar();
        if (!Files.isRegularFile(jar)) {
            spec.commandLine()
                    .getErr()
                    .println("An archive is made of the program's jar; this runs from " + jar);
            return Main.WRONG_INPUT;
        }
        PrintWriter out = spec.commandLine().getOut();
        Path work = Files.createTempDirectory("evenwash-archive");
        try {
            Path classes = work.resolve("classes");
            say(out, "1 of 2: a rehearsal, to see which classes are used");
            java(
                    work,
                    List.of("-Xshare:off", "-XX:DumpLoadedClassList=" + classes),
                    List.of("-jar", jar.toString()),
                    List.of("run", "--simulate", "--speed", "10", "--script", "-"),
                    List.of(
                            "--broker-port",
                            UNUSED_PORT,
                            "--data",
                            work.resolve("data").toString()));
            List<String> seen = new ArrayList<>(Files.readAllLines(classes));
            seen.addAll(boardClasses(jar));
            Files.write(classes, seen);
            say(out, "2 of 2: the archive of " + seen.size() + " classes");
            Path made = work.resolve("archive");
            java(
                    work,
                    List.of("-Xshare:dump", "-XX:SharedClassListFile=" + classes),
                    List.of("-XX:SharedArchiveFile=" + made, "-cp", jar.toString()));
            Path beside = archive.resolveSibling(archive.getFileName() + ".new");
            Files.copy(made, beside, StandardCopyOption.REPLACE_EXISTING);
            Files.move(beside, archive, StandardCopyOption.ATOMIC_MOVE);
            say(out, archive + ": " + Files.size(archive) / 1_000_000 + " MB");
            return 0;
        } finally {
            delete(work);
        }
    }

    private static void say(PrintWriter out, String line) {
        out.println(line);
        out.flush();
    }

    private static Path jar() {
        try {
            return Path.of(Main.class.getProtectionDomain().getCodeSource().getLocation().toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException("this program does not know where it lies", e);
        }
    }

    /** All that the list may name too much is left out by Java itself. */
    private static List<String> boardClasses(Path jar) throws IOException {
        try (JarFile file = new JarFile(jar.toFile())) {
            return file.stream()
                    .map(JarEntry::getName)
                    .filter(name -> name.endsWith(".class"))
                    .filter(name -> ONLY_ON_A_BOARD.stream().anyMatch(name::startsWith))
                    .map(name -> name.substring(0, name.length() - ".class".length()))
                    .toList();
        }
    }

    @SafeVarargs
    private static void java(Path work, List<String>... arguments)
            throws IOException, InterruptedException {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(AS_THE_SERVICE);
        for (List<String> some : arguments) {
            command.addAll(some);
        }
        Path in = Files.writeString(work.resolve("acts"), ACTS);
        Path said = work.resolve("said");
        Process process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectInput(in.toFile())
                        .redirectOutput(said.toFile())
                        .start();
        if (!process.waitFor(LONGEST_MIN, TimeUnit.MINUTES)) {
            process.destroyForcibly();
            throw new IOException("not done within " + LONGEST_MIN + " min: " + command);
        }
        if (process.exitValue() != 0) {
            throw new IOException(
                    "%s ended with %d and said: %s"
                            .formatted(command, process.exitValue(), Files.readString(said)));
        }
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            all.sorted(Comparator.reverseOrder()).forEach(ArchiveCommand::deleteOne);
        }
    }

    private static void deleteOne(Path file) {
        try {
            Files.delete(file);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot delete " + file, e);
        }
    }
}
