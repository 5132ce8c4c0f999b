package org.evenwash.logger.cli;

import java.io.BufferedReader;
import java.io.Console;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import org.evenwash.logger.access.AccountBook;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Role;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "account",
        description = {
            "Who may use the pages. The first account is the keeper's; from then on all must sign in.",
            "Passwords are asked for, never given on the command line, where others could read them;",
            "without a terminal they are read from standard input, one line."
        },
        mixinStandardHelpOptions = true)
final class AccountCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.WRONG_INPUT;
    }

    @Command(
            name = "first",
            description = "Sets the first password; its account is the keeper's.",
            mixinStandardHelpOptions = true)
    int first(
            @Mixin DataOption where,
            @Parameters(paramLabel = "NAME", description = "For signing in.") String name,
            @Option(
                            names = "--person",
                            paramLabel = "PERSON",
                            description = "As the yard knows the person. Default: NAME")
                    String person) {
        return with(
                where,
                book -> {
                    String password = newPassword();
                    Account account = book.first(name, person == null ? name : person, password);
                    say(account.name() + " is keeper. From now on the pages ask for a password.");
                });
    }

    @Command(name = "add", description = "Adds an account.", mixinStandardHelpOptions = true)
    int add(
            @Mixin DataOption where,
            @Parameters(paramLabel = "NAME", description = "For signing in.") String name,
            @Option(
                            names = "--person",
                            paramLabel = "PERSON",
                            description = "As the yard knows the person. Default: NAME")
                    String person,
            @Option(
                            names = "--role",
                            paramLabel = "ROLE",
                            description = "${COMPLETION-CANDIDATES}. Default: ${DEFAULT-VALUE}",
                            defaultValue = "OPERATOR")
                    Role role) {
        return with(
                where,
                book -> {
                    String password = newPassword();
                    Account account =
                            book.add(name, person == null ? name : person, role, password);
                    say(account.name() + " may sign in as " + word(account.role()) + ".");
                });
    }

    @Command(name = "list", description = "Lists all accounts.", mixinStandardHelpOptions = true)
    int list(@Mixin DataOption where) {
        return with(
                where,
                book -> {
                    for (Account account : book.all()) {
                        say(
                                "%-20s %-9s%s"
                                        .formatted(
                                                account.name(),
                                                word(account.role()),
                                                account.open() ? "" : "closed"));
                    }
                    if (!book.any()) {
                        say("Nobody has a password yet; set the first with 'account first'.");
                    }
                });
    }

    @Command(
            name = "password",
            description =
                    "Sets a new password, signs the account out everywhere and withdraws its tokens.",
            mixinStandardHelpOptions = true)
    int password(@Mixin DataOption where, @Parameters(paramLabel = "NAME") String name) {
        return with(
                where,
                book -> {
                    Account account = book.named(name);
                    book.setPassword(account.id(), newPassword());
                    say("The password of " + account.name() + " is set.");
                });
    }

    @Command(
            name = "role",
            description = "Gives an account another role.",
            mixinStandardHelpOptions = true)
    int role(
            @Mixin DataOption where,
            @Parameters(paramLabel = "NAME") String name,
            @Parameters(paramLabel = "ROLE", description = "${COMPLETION-CANDIDATES}") Role role) {
        return with(
                where,
                book -> {
                    book.setRole(book.named(name).id(), role);
                    say(name + " is " + word(role) + " now.");
                });
    }

    @Command(
            name = "close",
            description = "Closes an account, signs it out everywhere and withdraws its tokens.",
            mixinStandardHelpOptions = true)
    int close(@Mixin DataOption where, @Parameters(paramLabel = "NAME") String name) {
        return with(
                where,
                book -> {
                    book.close(book.named(name).id());
                    say("The account " + name + " is closed.");
                });
    }

    @Command(
            name = "unlock",
            description = "Ends a lock-out after wrong passwords.",
            mixinStandardHelpOptions = true)
    int unlock(@Mixin DataOption where, @Parameters(paramLabel = "NAME") String name) {
        return with(
                where,
                book -> {
                    book.unlock(book.named(name).id());
                    say("The account " + name + " is unlocked.");
                });
    }

    private int with(DataOption where, Consumer<AccountBook> work) {
        try (Database database = where.openOrMake()) {
            work.accept(new AccountBook(database, Clock.systemUTC(), new PersonPassword()));
        }
        return ExitCode.RESULT;
    }

    private void say(String line) {
        PrintWriter out = spec.commandLine().getOut();
        out.println(line);
        out.flush();
    }

    private static String word(Role role) {
        return role.name().toLowerCase(java.util.Locale.ROOT);
    }

    private static String newPassword() {
        if (!Terminal.attached()) {
            return line();
        }
        Console console = System.console();
        String once = asked(console, "New password: ");
        if (!once.equals(asked(console, "The same again: "))) {
            throw new BadInput("the two passwords differ; nothing was changed");
        }
        return once.strip();
    }

    private static String asked(Console console, String question) {
        char[] typed = console.readPassword(question);
        if (typed == null) {
            throw new BadInput("no password was typed; nothing was changed");
        }
        return new String(typed);
    }

    private static String line() {
        try {
            String line =
                    new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8))
                            .readLine();
            if (line == null) {
                throw new BadInput("no password came on standard input");
            }
            return line.strip();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read the password", e);
        }
    }
}
