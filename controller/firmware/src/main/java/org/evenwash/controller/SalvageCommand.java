package org.evenwash.controller;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.store.OutboxFile;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.controller.store.OutboxSalvage;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** What a bench whose outbox is damaged starts again with. */
@Command(
        name = "salvage",
        description = {
            "Puts a damaged outbox aside and saves into a new one what can be read in it.",
            "One that is sound is left alone. The controller must not run."
        },
        mixinStandardHelpOptions = true)
final class SalvageCommand implements Callable<Integer> {
    private static final String NEXT =
            "The proof test of the stop chain is due. Start the controller again.";

    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description = "The bench's data folder, instead of the one in the settings.")
    private Path data;

    @Override
    public Integer call() throws MistakenFile, OutboxRefused {
        Path folder = data != null ? data : config.read().dataFolder();
        Path file = folder.resolve(OutboxFile.NAME);
        if (Files.notExists(file) && !OutboxSalvage.isHalfDone(file)) {
            spec.commandLine()
                    .getErr()
                    .println("There is no " + file + ": name the bench's data folder with --data.");
            return Main.WRONG_INPUT;
        }
        DataFolder held = DataFolder.take(folder);
        try {
            salvage(file);
            return 0;
        } finally {
            held.close();
        }
    }

    private void salvage(Path file) throws OutboxRefused {
        PrintWriter out = spec.commandLine().getOut();
        if (OutboxSalvage.isHalfDone(file)) {
            OutboxSalvage.finish(file);
            out.println(
                    "The salvage that had been interrupted is finished: what it saved is in "
                            + file
                            + " now.");
            out.println(
                    "The damaged outbox is in the folder beside it whose name begins with "
                            + file.getFileName()
                            + ".put-aside. Keep it.");
            out.println(NEXT);
        } else {
            OutboxSalvage.salvage(file, BenchMemory.UNPROVEN)
                    .ifPresentOrElse(
                            saved -> tell(saved, out),
                            () -> out.println(file + " is sound: nothing was done."));
        }
        out.flush();
    }

    private static void tell(OutboxSalvage.Saved saved, PrintWriter out) {
        out.println("The damaged outbox is in " + saved.aside() + " now. Keep it.");
        out.printf(
                "Saved into a new one: %d message(s), of which the logger has yet to confirm %d.%n",
                saved.messages(), saved.unconfirmed());
        if (saved.unreadable().isEmpty()) {
            out.println("How many could not be read, nothing tells any more.");
        } else {
            out.printf(
                    "Could not be read: %d number(s), which the logger may have or not.%n",
                    saved.unreadable().getAsLong());
        }
        if (!saved.partly().isEmpty()) {
            out.println(
                    "Of what the bench remembers, not all could be read: "
                            + String.join(", ", saved.partly())
                            + ".");
        }
        out.println(NEXT);
    }
}
