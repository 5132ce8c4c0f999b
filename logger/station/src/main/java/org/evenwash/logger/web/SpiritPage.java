package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;

/** {@code /spirit}: the batches, how strong they are and how often they were used. */
public final class SpiritPage {
    private final FrontDesk desk;
    private final Database database;

    SpiritPage(FrontDesk desk, Database database) {
        this.desk = desk;
        this.database = database;
    }

    public record Row(SpiritBatch batch, long washes) {}

    public record View(List<Row> batches) {}

    void show(Context ctx) {
        List<Row> rows =
                database.read(
                        handle ->
                                SpiritBatches.all(handle).stream()
                                        .map(
                                                batch ->
                                                        new Row(
                                                                batch,
                                                                SpiritBatches.uses(
                                                                                handle, batch.id())
                                                                        .stream()
                                                                        .filter(
                                                                                use ->
                                                                                        use.kind()
                                                                                                == SpiritUse
                                                                                                        .Kind
                                                                                                        .WASH)
                                                                        .count()))
                                        .toList());
        Shell page = desk.shell(ctx, desk.texts(ctx).say("spirit.title"), "spirit");
        desk.show(ctx, "spirit", page, new View(rows));
    }
}
