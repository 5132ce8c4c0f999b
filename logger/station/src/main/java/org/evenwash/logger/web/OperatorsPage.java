package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;

/** {@code /operators}: who washes and counts. */
public final class OperatorsPage {
    private final FrontDesk desk;
    private final Database database;

    OperatorsPage(FrontDesk desk, Database database) {
        this.desk = desk;
        this.database = database;
    }

    public record View(List<Operator> operators) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("operators.title"), "operators");
        desk.show(ctx, "operators", page, new View(database.read(Operators::all)));
    }
}
