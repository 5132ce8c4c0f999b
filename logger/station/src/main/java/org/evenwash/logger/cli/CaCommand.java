package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.concurrent.Callable;
import org.evenwash.logger.tls.Authority;
import org.evenwash.logger.tls.Authority.Server;
import org.evenwash.logger.tls.Identity;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "ca",
        description = {
            "Certificates for pages and broker from an authority of your own.",
            "They are kept in the folder 'tls' of the data folder."
        },
        mixinStandardHelpOptions = true,
        subcommands = {CaCommand.Create.class, CaCommand.Renew.class, CaCommand.Standing.class})
final class CaCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    static Path folder(Path data) {
        return data.resolve("tls");
    }

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.WRONG_INPUT;
    }

    @Command(
            name = "create",
            description = {
                "Makes the authority and the first certificates.",
                "Give every name and address under which phones and benches reach this machine."
            },
            mixinStandardHelpOptions = true)
    static final class Create implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Parameters(arity = "1..*", paramLabel = "NAME", description = "Host name or address.")
        Set<String> names = new LinkedHashSet<>();

        @Override
        public Integer call() {
            Path folder = folder(data.made());
            Authority authority = new Authority(folder, Clock.systemUTC());
            authority.create(names.iterator().next());
            for (Server server : Server.values()) {
                authority.issue(server, names);
            }
            PrintWriter out = spec.commandLine().getOut();
            out.println("Certificates made in " + folder + ", readable by this user only.");
            out.println("Give each phone and each bench this file to trust: " + authority.trust());
            out.println("  on a bench: broker.tls: true and broker.caFile in its configuration");
            out.println("  on a phone: open the file and install it as an authority");
            tell(out, folder);
            out.println(
                    "Keep authority-key.pem to yourself: who has it can pretend to be this logger.");
            out.flush();
            return ExitCode.RESULT;
        }
    }

    @Command(
            name = "renew",
            description = {
                "Makes new certificates from the authority that is there; phones and benches keep"
                        + " trusting it.",
                "Start the logger again afterwards."
            },
            mixinStandardHelpOptions = true)
    static final class Renew implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Option(
                names = "--name",
                paramLabel = "NAME",
                description = "Names and addresses from now on; without it, those until now.")
        Set<String> names = new LinkedHashSet<>();

        @Override
        public Integer call() {
            Path folder = folder(data.own());
            Authority authority = new Authority(folder, Clock.systemUTC());
            if (!authority.exists()) {
                throw new BadInput(
                        "there is no authority in " + folder + "; make one with 'ca create'");
            }
            for (Server server : Server.values()) {
                authority.issue(server, names.isEmpty() ? server.in(folder).names() : names);
            }
            PrintWriter out = spec.commandLine().getOut();
            tell(out, folder);
            out.println("Start the logger again, so that it uses them.");
            out.flush();
            return ExitCode.RESULT;
        }
    }

    @Command(
            name = "status",
            description = {
                "Says how long the certificates are good for.",
                "Exit code 1 when one ends within 30 days or has ended."
            },
            mixinStandardHelpOptions = true)
    static final class Standing implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Override
        public Integer call() {
            Path folder = folder(data.folder);
            PrintWriter out = spec.commandLine().getOut();
            boolean soon = tell(out, folder);
            if (soon) {
                out.println("Renew them with 'evenwash-logger ca renew'.");
            }
            out.flush();
            return soon ? ExitCode.SURROUNDINGS : ExitCode.RESULT;
        }
    }

    /** One line for each certificate; whether one of them ends soon. */
    private static boolean tell(PrintWriter out, Path folder) {
        Instant now = Instant.now();
        boolean soon = false;
        boolean any = false;
        for (Server server : Server.values()) {
            if (server.isIn(folder)) {
                any = true;
                Identity identity = server.in(folder);
                soon |= identity.endsSoon(now);
                out.println(line(identity, now));
            }
        }
        if (!any) {
            out.println("No certificates in " + folder + ".");
        }
        return soon;
    }

    private static String line(Identity identity, Instant now) {
        long days = Duration.between(now, identity.until()).toDays();
        LocalDate end = LocalDate.ofInstant(identity.until(), ZoneId.systemDefault());
        return "%s: %s, good until %s (%s) for %s"
                .formatted(
                        identity.file().getFileName(),
                        identity.endsSoon(now) ? "TO BE RENEWED" : "good",
                        end,
                        days < 0 ? "over" : days + " days",
                        String.join(", ", identity.names()));
    }
}
