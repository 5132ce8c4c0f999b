package org.evenwash.logger.wash;

import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Photo;
import org.evenwash.logger.store.Photos;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** Photos beside a wash: the sieve, the label, the jar at its fill line. */
public final class PhotoAlbum {
    /** Largest photo, bytes. A page shrinks what it sends to a tenth of this. */
    public static final int LARGEST_BYTES = 4 * 1_024 * 1_024;

    /** Photos are evidence beside a count, not an archive. */
    static final int MOST_OF_A_WASH = 6;

    private final Desk desk;

    PhotoAlbum(Desk desk) {
        this.desk = desk;
    }

    /**
     * Adds a photo to a wash.
     *
     * @param bytes a JPEG or PNG file; told by its first bytes, whatever the sender calls it
     */
    public Photo add(UUID washId, byte[] bytes, By by) {
        String type = type(bytes);
        if (bytes.length > LARGEST_BYTES) {
            throw Refused.invalid(
                    "photo",
                    "has more than " + LARGEST_BYTES / (1_024 * 1_024) + " MiB",
                    "take it with fewer pixels");
        }
        if (!PictureSize.of(bytes).map(PictureSize::fits).orElse(true)) {
            throw Refused.invalid(
                    "photo",
                    "has more than "
                            + PictureSize.MOST_MEGAPIXELS
                            + " megapixels, or a side above "
                            + PictureSize.LONGEST_SIDE,
                    "take it with fewer pixels");
        }
        Photo photo = new Photo(Ids.next(), washId, type, desk.now(), by.operatorId());
        UUID id =
                desk.onceAt(
                        by,
                        "add a photo of wash",
                        washId,
                        photo.id(),
                        handle -> {
                            WashBook.wash(handle, washId);
                            if (Photos.ofWash(handle, washId).size() >= MOST_OF_A_WASH) {
                                throw Refused.conflict(
                                        "photos",
                                        "of this wash are " + MOST_OF_A_WASH + " already",
                                        "take one away first");
                            }
                            Photos.insert(handle, photo, bytes);
                        });
        return photo(id);
    }

    private static String type(byte[] bytes) {
        if (begins(bytes, 0xFF, 0xD8, 0xFF)) {
            return "image/jpeg";
        }
        if (begins(bytes, 0x89, 'P', 'N', 'G', 0x0D, 0x0A, 0x1A, 0x0A)) {
            return "image/png";
        }
        throw Refused.invalid(
                "photo", "is neither a JPEG nor a PNG picture", "choose a picture of that kind");
    }

    private static boolean begins(byte[] bytes, int... first) {
        if (bytes.length < first.length) {
            return false;
        }
        for (int i = 0; i < first.length; i++) {
            if ((bytes[i] & 0xFF) != first[i]) {
                return false;
            }
        }
        return true;
    }

    /** Takes a photo away for good: it may show what nobody should keep. That it was there is kept. */
    public UUID remove(UUID photoId, String why, By by) {
        String reason = Entry.why(why);
        UUID washId = photo(photoId).washId();
        desk.onceAt(
                by,
                "take away photo",
                photoId,
                handle -> {
                    Photo photo = photo(handle, photoId);
                    Photos.delete(handle, photoId);
                    desk.new Changes(handle, by, "photo", photoId, photo.washId(), 1, reason)
                            .field("added", photo.takenAt(), null)
                            .done();
                });
        return washId;
    }

    public List<Photo> ofWash(UUID washId) {
        return desk.read(handle -> Photos.ofWash(handle, washId));
    }

    public Photo photo(UUID id) {
        return desk.read(handle -> photo(handle, id));
    }

    private static Photo photo(Handle handle, UUID id) {
        return Photos.find(handle, Entry.present("photo", id))
                .orElseThrow(() -> Refused.notFound("photo", id));
    }

    public byte[] bytes(UUID id) {
        return desk.read(
                handle -> {
                    photo(handle, id);
                    return Photos.bytes(handle, id);
                });
    }
}
