package org.evenwash.logger.broker;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import org.evenwash.logger.file.WholeFile;
import org.evenwash.logger.tls.Identity;

/** The embedded broker reads its certificate from a key store file only: one made anew at each start. */
final class TlsStore {
    private TlsStore() {}

    /** Writes it beside the journal, for this user only; the part of an acceptor's address that names it. */
    static String write(Path folder, Identity identity) {
        Path file = folder.resolve("tls.p12");
        char[] password = Identity.freshPassword();
        try {
            Files.createDirectories(folder);
            ByteArrayOutputStream store = new ByteArrayOutputStream();
            identity.keyStore(password).store(store, password);
            WholeFile.write(file, store.toByteArray());
        } catch (IOException | GeneralSecurityException e) {
            throw new BrokerTrouble("the broker's certificate cannot be written to " + file, e);
        }
        return ";sslEnabled=true;enabledProtocols=TLSv1.2,TLSv1.3;keyStoreType=PKCS12;keyStorePath="
                + file.toAbsolutePath()
                + ";keyStorePassword="
                + new String(password);
    }
}
