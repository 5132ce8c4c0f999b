/** Certificates: reading given ones, an authority of our own, and when they end. */
package org.evenwash.logger.tls;
