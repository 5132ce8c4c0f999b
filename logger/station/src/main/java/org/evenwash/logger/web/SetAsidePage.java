package org.evenwash.logger.web;

import io.javalin.http.Context;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;

/** {@code /set-aside}: messages that could not be read, with the reason. */
public final class SetAsidePage {
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Database database;

    SetAsidePage(FrontDesk desk, Database database) {
        this.desk = desk;
        this.database = database;
    }

    public record View(Listing<SetAside> messages) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("aside.title"), "set-aside");
        View view = new View(database.read(handle -> SetAsides.list(handle, Page.first(ROWS))));
        desk.show(ctx, "setAside", page, view);
    }
}
