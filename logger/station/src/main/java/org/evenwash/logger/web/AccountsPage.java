package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.ApiToken;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.wash.Workplace;

/** Who may use the pages: for a keeper all accounts, for everybody the own one. */
public final class AccountsPage {
    private final FrontDesk desk;
    private final Workplace place;
    private final Doors doors;

    AccountsPage(FrontDesk desk, Workplace place, Doors doors) {
        this.desk = desk;
        this.place = place;
        this.doors = doors;
    }

    /**
     * One account as the page shows it.
     *
     * @param locked until a time to come
     * @param own of whoever looks
     */
    public record Line(Account account, String person, boolean locked, boolean own) {}

    /** One token as the page shows it. */
    public record TokenLine(ApiToken token, String account) {}

    /**
     * @param tokens names of those that end with the sign-ins
     */
    public record Own(List<String> tokens) {}

    /**
     * @param people of the yard who have no account yet
     * @param benches that have a password
     */
    public record View(
            List<Line> accounts,
            List<TokenLine> tokens,
            List<String> people,
            List<Option> roles,
            List<Bench> benches) {}

    void all(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("accounts.title"), "accounts");
        if (Visit.of(ctx).kind() == Visit.Kind.HOUSE) {
            desk.show(
                    ctx,
                    "firstPassword",
                    page,
                    new View(List.of(), List.of(), people(), List.of(), List.of()));
            return;
        }
        desk.show(ctx, "accounts", page, view(page, Visit.of(ctx).person()));
    }

    private View view(Shell page, Person reader) {
        Map<UUID, String> names = Names.of(place);
        List<Account> all = doors.accounts.all();
        List<Line> lines =
                all.stream()
                        .map(
                                account ->
                                        new Line(
                                                account,
                                                names.get(account.operatorId()),
                                                doors.front.locked(account),
                                                reader.accountId().equals(account.id())))
                        .toList();
        List<TokenLine> tokens =
                doors.tokens.inUse().stream()
                        .map(token -> new TokenLine(token, nameOf(token.accountId(), all)))
                        .toList();
        List<Option> roles =
                Arrays.stream(Role.values())
                        .map(role -> new Option(role.name(), page.texts().say(role)))
                        .toList();
        List<Bench> benches =
                place.benches().benches().stream()
                        .filter(bench -> bench.passwordHash() != null)
                        .toList();
        return new View(lines, tokens, people(), roles, benches);
    }

    private static String nameOf(UUID accountId, List<Account> all) {
        return all.stream()
                .filter(account -> account.id().equals(accountId))
                .map(Account::name)
                .findFirst()
                .orElse("");
    }

    private List<String> people() {
        List<UUID> taken = doors.accounts.all().stream().map(Account::operatorId).toList();
        return place.yard().operators().stream()
                .filter(person -> !taken.contains(person.id()))
                .map(person -> person.name())
                .toList();
    }

    /** The account of whoever is signed in. */
    void own(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("account.title"), "account");
        Person person = Visit.of(ctx).person();
        List<String> tokens =
                person == null
                        ? List.of()
                        : doors.tokens.inUse().stream()
                                .filter(token -> token.accountId().equals(person.accountId()))
                                .map(ApiToken::name)
                                .toList();
        desk.show(ctx, "account", page, new Own(tokens));
    }
}
