package org.evenwash.logger;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.joran.JoranConfigurator;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.LoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What a person reads in the log of the installed logger, and what a program does. */
class LogLinesTest {
    private static final String FORGED = "12:00:00.000 INFO  FrontDoor: ada signed in";

    @Test
    void textInAMessageOrAnException_beginsNoLineOfTheLog() throws Exception {
        List<String> lines = written("/logback.xml");
        assertThat(lines.get(0))
                .contains("Problems: a page failed | " + FORGED + "  | java.lang.IllegalState");
        assertThat(lines.subList(1, lines.size()))
                .isNotEmpty()
                .allMatch(line -> line.startsWith("  | "))
                .anyMatch(line -> line.endsWith(FORGED))
                .anyMatch(line -> line.contains("at " + LogLinesTest.class.getName()));
    }

    @Test
    void jsonLog_isOneLine_whateverTheTextSays() throws Exception {
        assertThat(written("/org/evenwash/logger/json-log.xml"))
                .singleElement()
                .asString()
                .contains("a page failed", LogLinesTest.class.getName());
    }

    private static List<String> written(String configuration) throws Exception {
        LoggerContext context = new LoggerContext();
        JoranConfigurator reader = new JoranConfigurator();
        reader.setContext(context);
        reader.doConfigure(LogLinesTest.class.getResource(configuration));
        try {
            Logger root = context.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
            var out = (ConsoleAppender<ILoggingEvent>) root.getAppender("out");
            var trouble =
                    new IllegalStateException(
                            "cannot write 'a\n" + FORGED + "'",
                            new IOException("because of 'b\r\n" + FORGED));
            Logger problems = context.getLogger("org.evenwash.logger.web.Problems");
            var event =
                    new LoggingEvent(
                            Logger.FQCN,
                            problems,
                            Level.ERROR,
                            "a page failed\n" + FORGED,
                            trouble,
                            new Object[0]);
            return new String(out.getEncoder().encode(event), StandardCharsets.UTF_8)
                    .lines()
                    .toList();
        } finally {
            context.stop();
        }
    }
}
