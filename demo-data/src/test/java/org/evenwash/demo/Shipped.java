package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** The two programs of this build. */
final class Shipped {
    static final Shipped CONTROLLER =
            new Shipped("evenwash-controller", Path.of("../controller/firmware"));
    static final Shipped LOGGER = new Shipped("evenwash-logger", Path.of("../logger/station"));

    private final String program;
    private final Path module;
    private Path jar;

    private Shipped(String program, Path module) {
        this.program = program;
        this.module = module;
    }

    /**
     * Lays it out under a folder as its package does.
     *
     * @return the program's own start script
     */
    Path install(Path folder) throws IOException {
        return new Installed(folder).install(program, built(), module.resolve("src/deb"));
    }

    /** A process of it, with the class archive that its package makes, but a Java that starts sooner. */
    Program start(String... arguments) {
        Path installed = installed();
        List<String> command = new ArrayList<>(Program.java());
        command.add("-XX:SharedArchiveFile=" + installed.resolveSibling(program + ".jsa"));
        command.addAll(List.of("-jar", installed.toString()));
        command.addAll(List.of(arguments));
        return Program.start(program, command);
    }

    /** Once for all tests of this process. */
    private synchronized Path installed() {
        if (jar == null) {
            try {
                Path folder = emptied(Path.of("target", "installed", program).toAbsolutePath());
                install(folder);
                jar = Installed.jar(folder, program);
            } catch (IOException e) {
                throw new UncheckedIOException("cannot lay out " + program, e);
            }
        }
        return jar;
    }

    private Path built() {
        Path built = module.resolve("target").resolve(program + ".jar");
        if (!Files.isRegularFile(built)) {
            throw new IllegalStateException(built + " is not there: build it with `mvn package`");
        }
        return built;
    }

    /** What an earlier run left there is another build's. */
    private static Path emptied(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> old = Files.walk(folder)) {
                for (Path file : old.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(file);
                }
            }
        }
        return Files.createDirectories(folder);
    }
}
