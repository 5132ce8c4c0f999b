package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.EVERYBODY;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import io.javalin.http.HttpStatus;
import java.util.List;
import org.evenwash.logger.access.FrontDoor;

/** Signing in and out. Plain forms: a password is never kept in the browser by our script. */
public final class SignInPages {
    private static final int TOO_MANY = 429;

    private final FrontDesk desk;
    private final Guard guard;
    private final Doors doors;

    SignInPages(FrontDesk desk, Guard guard, Doors doors) {
        this.desk = desk;
        this.guard = guard;
        this.doors = doors;
    }

    /**
     * @param to path to go to afterwards, always one of ours
     * @param name as it was typed
     * @param wrong why it did not work, null at first
     */
    public record View(String to, String name, String wrong) {}

    List<Route> routes() {
        return List.of(
                get(Guard.SIGN_IN, EVERYBODY, this::show),
                post(Guard.SIGN_IN, EVERYBODY, this::signIn),
                post("/sign-out", EVERYBODY, this::signOut));
    }

    private void show(Context ctx) {
        String to = own(ctx.queryParam("to"));
        if (Visit.of(ctx).kind() != Visit.Kind.STRANGER) {
            ctx.redirect(to, HttpStatus.SEE_OTHER);
            return;
        }
        page(ctx, new View(to, "", null));
    }

    private void page(Context ctx, View view) {
        Shell shell = desk.shell(ctx, desk.texts(ctx).say("signIn.title"), "");
        desk.show(ctx, "signIn", shell, view);
    }

    private void signIn(Context ctx) {
        Input in = desk.input(ctx);
        String name = in.optionalText("name", Api.LONGEST_NAME);
        String password = in.secret("password");
        String to = own(in.optionalText("to", 2_000));
        FrontDoor.Outcome outcome =
                doors.front.signIn(name == null ? "" : name, password, guard.address(ctx));
        if (outcome instanceof FrontDoor.Outcome.SignedIn in2) {
            doors.front.signOut(guard.secret(ctx));
            guard.give(ctx, in2.secret());
            ctx.redirect(to, HttpStatus.SEE_OTHER);
            return;
        }
        boolean wait = outcome instanceof FrontDoor.Outcome.Wait;
        long minutes = FrontDoor.LOCKED.toMinutes();
        if (wait) {
            ctx.header("Retry-After", Long.toString(FrontDoor.LOCKED.toSeconds()));
        }
        ctx.status(wait ? TOO_MANY : 401);
        Texts texts = desk.texts(ctx);
        String wrong = wait ? texts.say("signIn.wait", minutes) : texts.say("signIn.wrong");
        page(ctx, new View(to, name == null ? "" : name, wrong));
    }

    private void signOut(Context ctx) {
        doors.front.signOut(guard.secret(ctx));
        guard.takeBack(ctx);
        ctx.redirect(Guard.SIGN_IN, HttpStatus.SEE_OTHER);
    }

    /** Only ever a path of ours: a link must not use us to lead elsewhere. */
    static String own(String to) {
        boolean ours = to != null && to.matches("/([A-Za-z0-9][A-Za-z0-9/._~%?&=+-]*)?");
        return ours ? to : "/";
    }
}
