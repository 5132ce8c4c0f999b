package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.evenwash.logger.broker.Broker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A disk that runs full is told on every page while there is time to do something about it. */
class LittleRoomTest {
    private static final String TOLD = "disk is nearly full";

    @TempDir Path folder;

    @Test
    void pagesSaySo_longBeforeTheBrokerStops() {
        try (Scene scene = Scene.populated(folder)) {
            Visitor visitor = new Visitor(scene);
            scene.freeRoom_B.set(FrontDesk.LITTLE_ROOM_B);
            assertThat(visitor.get("/").body()).doesNotContain(TOLD);

            scene.freeRoom_B.set(700L << 20);
            for (String page : new String[] {"/", "/washes", "/plan", "/colonies", "/more"}) {
                assertThat(visitor.get(page).body()).as(page).contains(TOLD, "700 MB left");
            }
        }
        assertThat(FrontDesk.LITTLE_ROOM_B).isGreaterThan(4 * Broker.LEAST_FREE_DISK_B);
    }

    @Test
    void theTextNamesTheBrokersOwnLimit() {
        assertThat(Texts.in(java.util.Locale.UK).say("shell.disk", 700))
                .contains((Broker.LEAST_FREE_DISK_B >> 20) + " MB");
    }
}
