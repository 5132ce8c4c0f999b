package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import org.evenwash.logger.intake.Replay;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "set-aside",
        description = "Messages that could not be taken: list them, try them again.",
        mixinStandardHelpOptions = true,
        subcommands = {SetAsideCommand.ListThem.class, SetAsideCommand.TryAgain.class})
final class SetAsideCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.WRONG_INPUT;
    }

    private static List<SetAside> all(Database database) {
        List<SetAside> all = new ArrayList<>();
        for (int number = 1; ; number++) {
            Page page = new Page(number, Page.MOST);
            var listing = database.read(handle -> SetAsides.list(handle, page));
            all.addAll(listing.rows());
            if (!listing.hasNext()) {
                return all;
            }
        }
    }

    @Command(
            name = "list",
            description = "Lists them, newest first.",
            mixinStandardHelpOptions = true)
    static final class ListThem implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                List<SetAside> rows = all(database);
                for (SetAside row : rows) {
                    out.printf(
                            "%s  %s  %s  %d bytes%n    %s%n",
                            row.id(),
                            row.receivedAt(),
                            row.topic(),
                            row.size_bytes(),
                            row.reason());
                    if (row.replayResult() != null) {
                        out.printf(
                                "    tried again %s: %s%n", row.replayedAt(), row.replayResult());
                    }
                }
                out.println(rows.isEmpty() ? "None was set aside." : rows.size() + " set aside.");
                out.flush();
            }
            return ExitCode.RESULT;
        }
    }

    @Command(
            name = "replay",
            description = "Tries them again, all or those named; useful after an update.",
            mixinStandardHelpOptions = true)
    static final class TryAgain implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Parameters(paramLabel = "ID", arity = "0..*", description = "As printed by list.")
        List<UUID> ids = List.of();

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                List<UUID> wanted =
                        ids.isEmpty() ? all(database).stream().map(SetAside::id).toList() : ids;
                Replay replay = new Replay(database, Clock.systemUTC());
                for (UUID id : wanted) {
                    String result =
                            replay.again(id)
                                    .orElseThrow(
                                            () ->
                                                    new BadInput(
                                                            "no message "
                                                                    + id
                                                                    + " was set aside; see"
                                                                    + " 'set-aside list'"));
                    out.println(id + "  " + result);
                }
                out.flush();
            }
            return ExitCode.RESULT;
        }
    }
}
