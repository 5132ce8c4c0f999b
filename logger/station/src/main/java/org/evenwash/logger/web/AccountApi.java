package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.access.TokenBook;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.wash.BenchRegister;
import org.evenwash.logger.wash.Refused;

/** The part of the HTTP interface that changes who may use it. */
final class AccountApi {
    private static final String PAGE = "/accounts";

    private final FrontDesk desk;
    private final Guard guard;
    private final Doors doors;
    private final BenchRegister benches;

    AccountApi(FrontDesk desk, Guard guard, Doors doors, BenchRegister benches) {
        this.desk = desk;
        this.benches = benches;
        this.guard = guard;
        this.doors = doors;
    }

    List<Route> routes() {
        return List.of(
                get("/api/accounts", KEEPER, ctx -> ctx.json(doors.accounts.all())),
                post("/api/accounts", KEEPER, this::add),
                post("/api/accounts/first", KEEPER, this::first),
                post("/api/accounts/{id}/role", KEEPER, this::role),
                post("/api/accounts/{id}/password", KEEPER, this::password),
                post("/api/accounts/{id}/close", KEEPER, this::close),
                post("/api/accounts/{id}/reopen", KEEPER, this::reopen),
                post("/api/accounts/{id}/unlock", KEEPER, this::unlock),
                post("/api/accounts/{id}/sign-out", KEEPER, this::signOut),
                post("/api/account/password", OPERATOR, this::ownPassword),
                post("/api/account/sign-out", OPERATOR, this::signOutEverywhere),
                post("/api/benches/{bench}/revoke", KEEPER, this::revokeBench),
                get("/api/tokens", KEEPER, ctx -> ctx.json(doors.tokens.inUse())),
                post("/api/tokens", KEEPER, this::makeToken),
                post("/api/tokens/{id}/withdraw", KEEPER, this::withdrawToken));
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private void first(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("signInName", Api.LONGEST_NAME);
        String person = in.text("person", Api.LONGEST_NAME);
        String password = in.twice("password", "passwordAgain");
        in.check();
        doors.accounts.first(name, person, password);
        if (doors.front.signIn(name, password, guard.address(ctx))
                instanceof FrontDoor.Outcome.SignedIn signedIn) {
            guard.give(ctx, signedIn.secret());
        }
        Answer.created(ctx, PAGE, doors.accounts.named(name));
    }

    private void add(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("signInName", Api.LONGEST_NAME);
        String person = in.text("person", Api.LONGEST_NAME);
        Role role = in.choice("role", Role.class);
        String password = in.twice("password", "passwordAgain");
        confirmed(ctx, in);
        Answer.created(ctx, PAGE, doors.accounts.add(name, person, role, password));
    }

    private void role(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        Role role = in.choice("role", Role.class);
        confirmed(ctx, in);
        doors.accounts.setRole(id, role);
        done(ctx, id);
    }

    private void password(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String password = in.twice("password", "passwordAgain");
        if (isOwn(ctx, id)) {
            throw Refused.conflict(
                    "account",
                    "is your own",
                    "set its password on the page 'Your account', which asks for the old one");
        }
        confirmed(ctx, in);
        doors.accounts.setPassword(id, password);
        done(ctx, id);
    }

    /**
     * Checks the fields, and that whoever lets somebody in knows the own password: a page left open or a
     * token that was found is not enough to make oneself at home. In the house nobody has one.
     */
    private void confirmed(Context ctx, Input in) {
        Person person = Visit.of(ctx).person();
        String password = person == null ? null : in.secret("ownPassword");
        in.check();
        if (person != null) {
            doors.accounts.confirm(person.accountId(), password);
        }
    }

    /** Of the session or of whoever made the token; in the house nobody has an account. */
    private static boolean isOwn(Context ctx, UUID id) {
        Person person = Visit.of(ctx).person();
        return person != null && person.accountId().equals(id);
    }

    private void close(Context ctx) {
        doors.accounts.close(id(ctx));
        done(ctx, id(ctx));
    }

    private void reopen(Context ctx) {
        confirmed(ctx, desk.input(ctx));
        doors.accounts.reopen(id(ctx));
        done(ctx, id(ctx));
    }

    /** The own account stays locked: otherwise a page left open could guess its password for ever. */
    private void unlock(Context ctx) {
        if (isOwn(ctx, id(ctx))) {
            throw Refused.conflict(
                    "account",
                    "is your own",
                    "wait a quarter of an hour, let another keeper unlock it, or run"
                            + " 'evenwash-logger account unlock' at the machine");
        }
        doors.accounts.unlock(id(ctx));
        done(ctx, id(ctx));
    }

    private void signOut(Context ctx) {
        doors.accounts.signOutEverywhere(id(ctx));
        done(ctx, id(ctx));
    }

    private void done(Context ctx, UUID id) {
        Account account = doors.accounts.account(id);
        Answer.done(ctx, PAGE, account);
    }

    /** The person has to know the old password: an open page left alone is not enough. */
    private void ownPassword(Context ctx) {
        Input in = desk.input(ctx);
        String old = in.secret("oldPassword");
        String password = in.twice("password", "passwordAgain");
        in.check();
        doors.accounts.changePassword(own(ctx), old, password);
        guard.takeBack(ctx);
        Answer.said(ctx, Guard.SIGN_IN, desk.texts(ctx).say("account.changed"));
    }

    private void signOutEverywhere(Context ctx) {
        doors.accounts.signOutEverywhere(own(ctx));
        guard.takeBack(ctx);
        Answer.said(ctx, Guard.SIGN_IN, desk.texts(ctx).say("account.signedOut"));
    }

    private static UUID own(Context ctx) {
        Visit visit = Visit.of(ctx);
        if (visit.kind() != Visit.Kind.SESSION) {
            throw Refused.conflict(
                    "account", "is not signed in here", "sign in with its password first");
        }
        return visit.person().accountId();
    }

    /** The secret is answered here and never again: not by redirect, which a browser would remember. */
    private void makeToken(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.text("tokenName", TokenBook.LONGEST_NAME);
        boolean figures = in.yes("figuresOnly");
        Role role = figures ? null : in.choice("role", Role.class);
        int days = in.wholeNumber("days", 1, TokenBook.MOST_DAYS);
        own(ctx);
        confirmed(ctx, in);
        TokenBook.Made made = doors.tokens.make(guard.secret(ctx), name, role, days);
        if (FrontDesk.wantsPage(ctx)) {
            Shell page = desk.shell(ctx, desk.texts(ctx).say("token.made"), "accounts");
            desk.show(ctx, "token", page, made);
        } else {
            ctx.status(201);
            ctx.json(Map.of("page", PAGE, "result", made));
        }
    }

    private void revokeBench(Context ctx) {
        Input in = desk.input(ctx);
        benches.revoke(ctx.pathParam("bench"), Api.by(ctx, in));
        Answer.said(ctx, PAGE, desk.texts(ctx).say("accounts.benches.revoked"));
    }

    private void withdrawToken(Context ctx) {
        doors.tokens.withdraw(id(ctx));
        Answer.said(ctx, PAGE, desk.texts(ctx).say("token.withdrawn"));
    }
}
