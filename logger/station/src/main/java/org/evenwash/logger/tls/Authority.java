package org.evenwash.logger.tls;

import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.SecureRandom;
import java.security.cert.X509Certificate;
import java.security.spec.ECGenParameterSpec;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Date;
import java.util.Set;
import java.util.TreeSet;
import org.bouncycastle.asn1.x500.X500Name;
import org.bouncycastle.asn1.x500.X500NameBuilder;
import org.bouncycastle.asn1.x500.style.BCStyle;
import org.bouncycastle.asn1.x509.BasicConstraints;
import org.bouncycastle.asn1.x509.ExtendedKeyUsage;
import org.bouncycastle.asn1.x509.Extension;
import org.bouncycastle.asn1.x509.GeneralName;
import org.bouncycastle.asn1.x509.GeneralNames;
import org.bouncycastle.asn1.x509.KeyPurposeId;
import org.bouncycastle.asn1.x509.KeyUsage;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.cert.jcajce.JcaX509ExtensionUtils;
import org.bouncycastle.cert.jcajce.JcaX509v3CertificateBuilder;
import org.bouncycastle.operator.OperatorCreationException;
import org.bouncycastle.operator.jcajce.JcaContentSignerBuilder;

/**
 * A certificate authority of the yard's own, in one folder: its certificate, which phones and benches
 * are given to trust, and the certificates of pages and broker that it signs.
 */
public final class Authority {
    /** What phones and benches trust. */
    public static final String TRUST = "trust.pem";

    private static final String KEY = "authority-key.pem";
    private static final Duration OF_AUTHORITY = Duration.ofDays(3_650);

    /** Below the 398 days that browsers grant (CA/Browser Forum baseline requirements, 6.3.2). */
    private static final Duration OF_SERVER = Duration.ofDays(397);

    /** A clock that is a little slow must not find a certificate from tomorrow. */
    private static final Duration BEFORE = Duration.ofDays(1);

    private static final String SIGNED_BY = "SHA256withECDSA";
    private static final String ADDRESS = "[0-9.]+|\\[?[0-9A-Fa-f]*:[0-9A-Fa-f:.]*]?";
    private static final String HOST = "[A-Za-z0-9]([A-Za-z0-9.-]{0,250}[A-Za-z0-9])?";

    private final Path folder;
    private final Clock clock;

    /**
     * @param folder need not exist yet
     */
    public Authority(Path folder, Clock clock) {
        this.folder = folder;
        this.clock = clock;
    }

    /** The two servers that have certificates. */
    public enum Server {
        WEB("web"),
        BROKER("broker");

        private final String stem;

        Server(String stem) {
            this.stem = stem;
        }

        public Path certificate(Path folder) {
            return folder.resolve(stem + ".pem");
        }

        public Path key(Path folder) {
            return folder.resolve(stem + "-key.pem");
        }

        /** Read from a folder. */
        public Identity in(Path folder) {
            return Identity.read(certificate(folder), key(folder));
        }

        public boolean isIn(Path folder) {
            return Files.exists(certificate(folder));
        }
    }

    public boolean exists() {
        return Files.exists(folder.resolve(KEY));
    }

    public Path trust() {
        return folder.resolve(TRUST);
    }

    /**
     * Makes the authority.
     *
     * @throws CertificateTrouble if there is one already: all who trust it would have to be told
     */
    public void create(String about) {
        if (exists()) {
            throw new CertificateTrouble(
                    "there is an authority in "
                            + folder
                            + " already; renew the servers' certificates with 'ca renew', or move the"
                            + " folder away to begin anew",
                    null);
        }
        KeyPair pair = keys();
        X500Name name = named("Evenwash authority of " + about);
        try {
            var builder =
                    new JcaX509v3CertificateBuilder(
                            name, serial(), from(), until(OF_AUTHORITY), name, pair.getPublic());
            builder.addExtension(Extension.basicConstraints, true, new BasicConstraints(0));
            builder.addExtension(
                    Extension.keyUsage,
                    true,
                    new KeyUsage(KeyUsage.keyCertSign | KeyUsage.cRLSign));
            builder.addExtension(
                    Extension.subjectKeyIdentifier,
                    false,
                    new JcaX509ExtensionUtils().createSubjectKeyIdentifier(pair.getPublic()));
            X509Certificate certificate = signed(builder, pair.getPrivate());
            Pem.write(folder.resolve(KEY), pair.getPrivate());
            Pem.write(trust(), certificate);
        } catch (IOException | GeneralSecurityException | OperatorCreationException e) {
            throw new CertificateTrouble("the authority cannot be made", e);
        }
    }

    /**
     * Makes a new key and certificate for a server.
     *
     * @param names host names and addresses under which it is reached; this machine's are added
     */
    public void issue(Server server, Set<String> names) {
        X509Certificate authority = Pem.certificates(trust()).get(0);
        PrivateKey signer = Pem.key(folder.resolve(KEY), "EC");
        Set<String> all = new TreeSet<>(names);
        all.add("localhost");
        all.add("127.0.0.1");
        KeyPair pair = keys();
        try {
            var utils = new JcaX509ExtensionUtils();
            var builder =
                    new JcaX509v3CertificateBuilder(
                            authority,
                            serial(),
                            from(),
                            until(OF_SERVER),
                            named("Evenwash " + server.stem),
                            pair.getPublic());
            builder.addExtension(Extension.basicConstraints, true, new BasicConstraints(false));
            builder.addExtension(Extension.keyUsage, true, new KeyUsage(KeyUsage.digitalSignature));
            builder.addExtension(
                    Extension.extendedKeyUsage,
                    false,
                    new ExtendedKeyUsage(KeyPurposeId.id_kp_serverAuth));
            builder.addExtension(Extension.subjectAlternativeName, false, alternatives(all));
            builder.addExtension(
                    Extension.authorityKeyIdentifier,
                    false,
                    utils.createAuthorityKeyIdentifier(authority));
            builder.addExtension(
                    Extension.subjectKeyIdentifier,
                    false,
                    utils.createSubjectKeyIdentifier(pair.getPublic()));
            Pem.write(server.key(folder), pair.getPrivate());
            Pem.write(server.certificate(folder), signed(builder, signer));
        } catch (IOException | GeneralSecurityException | OperatorCreationException e) {
            throw new CertificateTrouble(
                    "the certificate of " + server.stem + " cannot be made", e);
        }
    }

    private static GeneralNames alternatives(Set<String> names) {
        return new GeneralNames(
                names.stream().map(Authority::alternative).toArray(GeneralName[]::new));
    }

    private static GeneralName alternative(String name) {
        if (name.matches(ADDRESS)) {
            return new GeneralName(GeneralName.iPAddress, name.replaceAll("[\\[\\]]", ""));
        }
        if (!name.matches(HOST)) {
            throw new CertificateTrouble(
                    "'" + name + "' is neither a host name nor an address", null);
        }
        return new GeneralName(GeneralName.dNSName, name);
    }

    private static X509Certificate signed(JcaX509v3CertificateBuilder builder, PrivateKey by)
            throws OperatorCreationException, GeneralSecurityException {
        return new JcaX509CertificateConverter()
                .getCertificate(builder.build(new JcaContentSignerBuilder(SIGNED_BY).build(by)));
    }

    private static KeyPair keys() {
        try {
            KeyPairGenerator generator = KeyPairGenerator.getInstance("EC");
            generator.initialize(new ECGenParameterSpec("secp256r1"));
            return generator.generateKeyPair();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("secp256r1 belongs to every Java", e);
        }
    }

    private static X500Name named(String name) {
        return new X500NameBuilder(BCStyle.INSTANCE).addRDN(BCStyle.CN, name).build();
    }

    /** RFC 5280, 4.1.2.2: positive and at most 20 bytes; random, so that no two are the same. */
    private static BigInteger serial() {
        return new BigInteger(150, new SecureRandom()).setBit(150);
    }

    private Date from() {
        return Date.from(clock.instant().minus(BEFORE));
    }

    private Date until(Duration length) {
        Instant end = clock.instant().plus(length).minus(BEFORE);
        return Date.from(end);
    }
}
