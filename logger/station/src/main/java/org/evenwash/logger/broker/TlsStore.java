package org.evenwash.logger.broker;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
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
            Files.deleteIfExists(file);
            if (folder.getFileSystem().supportedFileAttributeViews().contains("posix")) {
                Files.createFile(
                        file,
                        PosixFilePermissions.asFileAttribute(
                                PosixFilePermissions.fromString("rw-------")));
            }
            try (OutputStream out = Files.newOutputStream(file)) {
                identity.keyStore(password).store(out, password);
            }
        } catch (IOException | GeneralSecurityException e) {
            throw new BrokerTrouble("the broker's certificate cannot be written to " + file, e);
        }
        return ";sslEnabled=true;enabledProtocols=TLSv1.2,TLSv1.3;keyStoreType=PKCS12;keyStorePath="
                + file.toAbsolutePath()
                + ";keyStorePassword="
                + new String(password);
    }
}
