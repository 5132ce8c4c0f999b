package org.evenwash.logger.cli;

import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.store.DatabaseTrouble;
import org.evenwash.logger.tls.CertificateTrouble;
import org.evenwash.logger.wash.Refused;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import picocli.CommandLine.UnmatchedArgumentException;

/** The logger's command line. How it can end stands in {@link ExitCode}. */
@Command(
        name = Main.NAME,
        description = "Keeps washes of honey bee colonies and says what they show.",
        mixinStandardHelpOptions = true,
        versionProvider = Main.Version.class,
        subcommands = {
            Serve.class,
            AccountCommand.class,
            AdmitBench.class,
            RevokeBench.class,
            BrokerFilesCommand.class,
            CaCommand.class,
            SetAsideCommand.class,
            ImportCommand.class,
            ImportsCommand.class,
            ExportCommand.class,
            Backup.class,
            Restore.class,
            ReportCommand.class,
            SupportBundle.class,
            HelpCommand.class,
            AutoComplete.GenerateCompletion.class
        })
public final class Main {
    static final String NAME = "evenwash-logger";

    /** Of all but the analyses. */
    static final int HELP_WIDTH = 100;

    private Main() {}

    public static void main(String[] args) {
        CommandLine line = commandLine(args);
        Charset charset = Terminal.charset();
        line.setOut(new PrintWriter(new PrintStream(System.out, false, charset), false, charset));
        line.setErr(new PrintWriter(new PrintStream(System.err, true, charset), true, charset));
        System.exit(line.execute(args));
    }

    /**
     * The command line, for tests too. A command that is named first is made alone: making all of them takes
     * several times as long as to run the smaller ones, and a part of each start of {@code serve}.
     */
    static CommandLine commandLine(String... args) {
        CommandLine root =
                args.length == 0
                        ? whole()
                        : Commands.made(args[0]).map(Main::alone).orElseGet(Main::whole);
        ExitCode.describe(root);
        return root.setCaseInsensitiveEnumValuesAllowed(true)
                .setParameterExceptionHandler(Main::explainOptions)
                .setExecutionExceptionHandler(Main::explain);
    }

    private static CommandLine alone(CommandLine command) {
        return new CommandLine(CommandSpec.create().name(NAME))
                .addSubcommand(command.getCommandName(), command);
    }

    private static CommandLine whole() {
        CommandLine root = new CommandLine(new Main()).setUsageHelpWidth(HELP_WIDTH);
        Commands.ANALYSES
                .keySet()
                .forEach(name -> root.addSubcommand(name, Commands.analysis(name)));
        return root;
    }

    private static int explainOptions(ParameterException e, String[] args) {
        CommandLine command = e.getCommandLine();
        command.getErr().println(e.getMessage());
        UnmatchedArgumentException.printSuggestions(e, command.getErr());
        command.getErr().println("Try: " + command.getCommandSpec().qualifiedName() + " --help");
        command.getErr().flush();
        return ExitCode.WRONG_INPUT;
    }

    private static int explain(Exception e, CommandLine command, ParseResult parsed)
            throws Exception {
        if (e instanceof BadInput || isInput(e)) {
            command.getErr().println(e.getMessage());
            command.getErr().flush();
            return ExitCode.WRONG_INPUT;
        }
        if (e instanceof StationTrouble
                || e instanceof DatabaseTrouble
                || e instanceof BrokerTrouble
                || e instanceof CertificateTrouble
                || e instanceof Refused) {
            command.getErr().println(e.getMessage());
            command.getErr().flush();
            return ExitCode.SURROUNDINGS;
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
