package org.evenwash.controller;

import java.util.concurrent.Callable;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.config.MistakenFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Checks a settings file, or prints the shipped one. */
@Command(
        name = "config",
        description = "Checks a settings file and tells every mistake in it, with line and remedy.",
        mixinStandardHelpOptions = true)
final class ConfigCommand implements Callable<Integer> {
    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Option(
            names = "--print-default",
            description = "Prints the shipped settings, comments and all.")
    private boolean printDefault;

    @Override
    public Integer call() throws MistakenFile {
        if (printDefault) {
            spec.commandLine().getOut().print(ConfigurationFile.shippedText());
            spec.commandLine().getOut().flush();
            return 0;
        }
        Configuration read = config.read();
        spec.commandLine()
                .getOut()
                .printf(
                        "Settings are sound: bench %s, %d jar position(s), broker %s:%d, records in %s.%n",
                        read.benchId(),
                        read.settings().positions(),
                        read.broker().host(),
                        read.broker().port(),
                        read.dataFolder());
        return 0;
    }
}
