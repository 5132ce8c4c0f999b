/** Passwords and random secrets: how they are made, hashed and compared. Knows no database. */
package org.evenwash.logger.secret;
