package org.evenwash.logger.store;

import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Calibrations of a fill line or a mass, as they are looked up to estimate bees. */
public final class BeeCalibrations {
    /** One in use. */
    public record InUse(UUID id, String name, BeeMeasure measure) {}

    private BeeCalibrations() {}

    /**
     * Newest first.
     *
     * @param simulatedToo whether those made on a simulated bench count
     */
    public static List<InUse> inUse(Handle handle, boolean simulatedToo) {
        return handle.createQuery(
                        """
                        SELECT id, name, kind AS measure FROM calibration
                        WHERE kind IN ('FILL_LINE', 'MASS')
                            AND used_from IS NOT NULL AND used_until IS NULL
                            AND (:simulatedToo OR NOT simulated)
                        ORDER BY used_from DESC, id""")
                .bind("simulatedToo", simulatedToo)
                .map(ConstructorMapper.of(InUse.class))
                .list();
    }

    /** The readings that it was made of, as JSON. */
    public static String inputs(Handle handle, UUID id) {
        return handle.createQuery("SELECT inputs_json FROM calibration WHERE id = :id")
                .bind("id", id)
                .mapTo(String.class)
                .one();
    }
}
