package org.evenwash.logger.web;

import java.time.Clock;
import java.util.Optional;
import org.evenwash.logger.access.AccountBook;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.access.TokenBook;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Database;

/** All that has to do with who may use the pages. */
final class Doors {
    final AccountBook accounts;
    final FrontDoor front;
    final TokenBook tokens;

    /** Once set it never turns back: there is always a keeper from then on. */
    private volatile boolean anyPassword;

    Doors(Database database, Clock clock, PersonPassword passwords) {
        accounts = new AccountBook(database, clock, passwords);
        front = new FrontDoor(database, clock, passwords);
        tokens = new TokenBook(database, clock);
    }

    boolean nobodyHasAPassword() {
        if (!anyPassword) {
            anyPassword = accounts.any();
        }
        return !anyPassword;
    }

    Optional<Person> withSession(String secret) {
        return front.whoIs(secret);
    }

    Optional<Person> withToken(String token) {
        return tokens.whoIs(token);
    }
}
