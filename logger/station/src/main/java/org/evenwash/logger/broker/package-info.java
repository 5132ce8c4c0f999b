/** The station's own MQTT broker, for those who run no other, and who may say what on it. */
package org.evenwash.logger.broker;
