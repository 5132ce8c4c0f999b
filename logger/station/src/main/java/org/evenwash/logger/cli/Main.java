package org.evenwash.logger.cli;

import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.store.DatabaseTrouble;
import org.evenwash.logger.wash.Refused;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.ParseResult;

/** The logger's command line. Exit codes: 0 done, 1 the surroundings failed, 2 the input is wrong. */
@Command(
        name = "evenwash-logger",
        description = "Keeps washes of honey bee colonies and says what they show.",
        mixinStandardHelpOptions = true,
        versionProvider = Main.Version.class,
        subcommands = {
            Serve.class,
            InfestationCommand.class,
            AdmitBench.class,
            SetAsideCommand.class,
            Backup.class,
            Restore.class,
            HelpCommand.class
        })
public final class Main {
    private Main() {}

    public static void main(String[] args) {
        System.exit(commandLine().execute(args));
    }

    /** The command line, for tests too. */
    static CommandLine commandLine() {
        return new CommandLine(new Main())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .setExecutionExceptionHandler(Main::explain);
    }

    private static int explain(Exception e, CommandLine command, ParseResult parsed)
            throws Exception {
        if (e instanceof BadInput || isInput(e)) {
            command.getErr().println(e.getMessage());
            return ExitCode.USAGE;
        }
        if (e instanceof StationTrouble
                || e instanceof DatabaseTrouble
                || e instanceof BrokerTrouble
                || e instanceof Refused) {
            command.getErr().println(e.getMessage());
            return ExitCode.SOFTWARE;
        }
        throw e;
    }

    private static boolean isInput(Exception e) {
        return e instanceof Refused refused && refused.kind() != Refused.Kind.UNAVAILABLE;
    }

    /** From the jar's manifest; classes run from a build folder have none. */
    static final class Version implements IVersionProvider {
        @Override
        public String[] getVersion() {
            String version = Main.class.getPackage().getImplementationVersion();
            return new String[] {
                "evenwash-logger " + (version == null ? "(development build)" : version)
            };
        }
    }
}
