package org.evenwash.logger.intake;

import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.SetAside;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.record.Receipt;
import org.jdbi.v3.core.Handle;

/** Tries messages again that were set aside, as after an update that can read them. */
public final class Replay {
    private final Database database;
    private final Clock clock;

    public Replay(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /**
     * Tries one message.
     *
     * @return what became of it in words, or empty if there is no such message
     */
    public Optional<String> again(UUID id) {
        return database.write(handle -> SetAsides.find(handle, id).map(row -> again(handle, row)));
    }

    private String again(Handle handle, SetAside row) {
        Payload payload = new Payload(SetAsides.payload(handle, row.id()).orElseThrow());
        Reading reading = Reader.read(row.topic(), payload);
        String result;
        if (reading instanceof Reading.State || reading instanceof Reading.Live) {
            result = "readable now, but a state is not kept";
        } else {
            Outcome outcome = Ledger.write(handle, List.of(reading), clock.instant()).get(0);
            result =
                    outcome.result() == Receipt.Result.SET_ASIDE
                            ? "set aside again: " + outcome.reason()
                            : outcome.result().name().toLowerCase(Locale.ROOT);
        }
        SetAsides.replayed(handle, row.id(), result, clock.instant());
        return result;
    }
}
