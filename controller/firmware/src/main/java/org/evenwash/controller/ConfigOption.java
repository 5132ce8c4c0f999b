package org.evenwash.controller;

import java.nio.file.Files;
import java.nio.file.Path;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.config.MistakenFile;
import picocli.CommandLine.Option;

/** Where the settings are; shared by the commands that need them. */
final class ConfigOption {
    /** Where the package puts it. */
    private static final Path USUAL = Path.of("/etc/evenwash/evenwash-controller.yaml");

    @Option(
            names = "--config",
            paramLabel = "FILE",
            description =
                    "Settings of this bench. Default: /etc/evenwash/evenwash-controller.yaml.")
    private Path file;

    /** The file's settings; the shipped ones where the usual file is not there. */
    Configuration read() throws MistakenFile {
        if (file != null) {
            return ConfigurationFile.read(file);
        }
        return Files.exists(USUAL) ? ConfigurationFile.read(USUAL) : ConfigurationFile.shipped();
    }

    /** Whether a person named a file, or the package put one there. */
    boolean given() {
        return file != null || Files.exists(USUAL);
    }
}
