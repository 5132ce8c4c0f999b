package org.evenwash.logger.web;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.transfer.PlanEdit;
import org.evenwash.logger.transfer.Progress;
import org.evenwash.logger.wash.By;

/** Invented files of old records in three stages. */
final class OldFiles {
    private static final String NEW =
            """
            Datum;Standort;Beute;Bienen;Milben;Schüttelzeit;Wetter
            18.04.2031;Hollow Lane;Alder;310;4;60;sonnig
            18.04.2031;Hollow Lane;Birch;295;0;60;sonnig
            03.05.2031;South Ridge;Dogwood;304;11;60;Regen
            """;

    private static final String CHECKED =
            """
            Date,Yard,Hive,Bees,Mites,Sampled by
            2031-04-02,Hollow Lane,Alder,310,4,Ada
            2031-04-02,Hollow Lane,Rowan,295,many,Ada
            2031-13-02,Hollow Lane,Birch,0,3,Caro
            2031-04-16,Old Quarry,Elder,301,7,Caro
            """;

    private static final String IMPORTED =
            """
            Date,Yard,Hive,Bees,Mites
            2030-08-02,Hollow Lane,Alder,310,24
            2030-09-12,Hollow Lane,Alder,290,6
            """;

    private OldFiles() {}

    static List<UUID> in(Database database, Clock clock) {
        Importing importing = new Importing(database, clock);
        UUID fresh =
                importing
                        .upload("wabenbuch-2031.csv", NEW.getBytes(StandardCharsets.ISO_8859_1))
                        .id();
        UUID checked = checked(importing, "spring-round.csv", CHECKED);
        UUID imported = checked(importing, "last-year.csv", IMPORTED);
        importing.accept(imported, false, true, By.nobody(), Progress.NONE);
        return List.of(fresh, checked, imported);
    }

    private static UUID checked(Importing importing, String name, String text) {
        UUID id = importing.upload(name, text.getBytes(StandardCharsets.UTF_8)).id();
        importing.check(id, new PlanEdit(importing.look(id)).plan(), Progress.NONE);
        return id;
    }
}
