package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.transfer.Exporting;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.wash.Workplace;

/** Pages and interface for all data in and out, put together. */
final class DataDoor implements AutoCloseable {
    private final ImportJobs jobs = new ImportJobs();
    private final DataPages pages;
    private final ImportApi imports;
    private final ExportApi exports;

    DataDoor(FrontDesk desk, Database database, Workplace place) {
        Importing importing = new Importing(database, place.clock());
        pages = new DataPages(desk, place, importing, jobs, database.sqlite());
        imports = new ImportApi(desk, importing, jobs);
        exports = new ExportApi(database, new Exporting(database, place.clock()));
    }

    List<Route> pages() {
        return pages.routes();
    }

    List<Route> api() {
        List<Route> routes = new ArrayList<>(imports.routes());
        routes.addAll(exports.routes());
        return routes;
    }

    @Override
    public void close() {
        jobs.close();
    }
}
