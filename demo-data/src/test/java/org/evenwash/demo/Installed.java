package org.evenwash.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;

/** The two programs as their packages lay them out, class archive included, under a folder instead of the root. */
final class Installed {
    private static final String SHARE = "/usr/share/evenwash";

    private final Path root;

    Installed(Path root) {
        this.root = root;
    }

    /**
     * @param deb folder of the package's files
     * @return the program's own start script, its paths under this root
     */
    Path install(String name, Path jar, Path deb) throws IOException {
        Path share = Files.createDirectories(Path.of(root + SHARE));
        Files.copy(jar, jar(root, name), StandardCopyOption.COPY_ATTRIBUTES);
        Path archiving = here(deb.resolve("archive-classes.sh"), name + "-archive");
        Program program = Program.start("archive", List.of("sh", archiving.toString()));
        if (program.awaitExit() != 0 || !Files.isRegularFile(share.resolve(name + ".jsa"))) {
            throw new AssertionError("no class archive of " + name + ":\n" + program.tail());
        }
        return here(deb.resolve(name + ".sh"), name);
    }

    /** Where {@link #install} lays a program's jar. */
    static Path jar(Path root, String name) {
        return Path.of(root + SHARE).resolve(name + ".jar");
    }

    private Path here(Path script, String name) throws IOException {
        Path java = Path.of(System.getProperty("java.home"), "bin", "java");
        return Files.writeString(
                root.resolve(name),
                Files.readString(script)
                        .replace("$DPKG_ROOT", "")
                        .replace(SHARE, root + SHARE)
                        .replace("/usr/bin/java", java.toString()));
    }

    static Program run(Path script, String... arguments) {
        List<String> command = new ArrayList<>(List.of("sh", script.toString()));
        command.addAll(List.of(arguments));
        return Program.start(script.getFileName().toString(), command);
    }
}
