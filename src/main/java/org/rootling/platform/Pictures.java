package org.rootling.platform;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Iterator;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.stream.ImageInputStream;
import net.coobird.thumbnailator.Thumbnails;
import net.coobird.thumbnailator.util.exif.ExifFilterUtils;
import net.coobird.thumbnailator.util.exif.ExifUtils;
import net.coobird.thumbnailator.util.exif.Orientation;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.web.multipart.MultipartFile;

/**
 * Photos and papers (PDF) of the current vineyard. A photo is told by its content, turned upright, made at most
 * {@value #LONGEST} points long and written anew as JPEG, so that nothing of the upload is left in it: no place, no
 * camera, no hidden data. A paper is kept as it is and only ever handed out as a download.
 */
@Service
public class Pictures {

    /** Largest upload, in bytes; the servlet container refuses more before. */
    public static final int MOST_BYTES = 12 * 1024 * 1024;

    private static final int LONGEST = 2000;
    private static final int SMALL = 320;
    private static final long MOST_POINTS = 120_000_000;

    /** Decoding takes tens of megabytes: two at a time are enough, the others wait. */
    private final Semaphore hands = new Semaphore(2);

    private final JdbcClient jdbc;

    Pictures(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** What is handed out: the media type and the bytes. */
    @SuppressWarnings("ArrayRecordComponent")
    public record Kept(boolean photo, byte[] content) {

        /** {@code image/jpeg} or {@code application/pdf}. */
        public String mediaType() {
            return photo ? "image/jpeg" : "application/pdf";
        }
    }

    /**
     * Keeps an uploaded photo or paper; null where the form had none.
     *
     * @throws Refused if it is neither or too large; the caller names the field
     */
    @Transactional
    public @Nullable UUID keepIfGiven(@Nullable MultipartFile file) {
        return file == null || file.isEmpty() ? null : keep(file);
    }

    /**
     * Keeps an uploaded photo or paper and returns its id.
     *
     * @throws Refused if it is neither or too large; the caller names the field
     */
    @Transactional
    public UUID keep(MultipartFile file) {
        try (InputStream in = file.getInputStream()) {
            return keep(in.readNBytes(MOST_BYTES + 1));
        } catch (IOException unreadable) {
            throw new Refused("platform.picture.unreadable");
        }
    }

    /**
     * Keeps a photo or paper and returns its id.
     *
     * @throws Refused if it is neither or too large
     */
    @Transactional
    public UUID keep(byte[] upload) {
        if (upload.length == 0) {
            throw new Refused("platform.picture.empty");
        }
        if (upload.length > MOST_BYTES) {
            throw new Refused("platform.picture.too-large", megabytes(upload.length), megabytes(MOST_BYTES));
        }
        UUID id = Ids.next();
        if (isPaper(upload)) {
            store(id, "PAPER", upload, null);
            return id;
        }
        hands.acquireUninterruptibly();
        try {
            BufferedImage photo = upright(upload);
            store(id, "PHOTO", jpeg(photo, LONGEST), jpeg(photo, SMALL));
        } finally {
            hands.release();
        }
        return id;
    }

    /** The photo or paper in its full size. */
    public Optional<Kept> find(UUID id) {
        return read("select kind = 'PHOTO' as photo, content from picture where vineyard_id = ? and id = ?", id);
    }

    /** The photo {@value #SMALL} points long; a paper has none. */
    public Optional<Kept> findSmall(UUID id) {
        return read(
                "select true as photo, small as content from picture where vineyard_id = ? and id = ? and kind = 'PHOTO'",
                id);
    }

    private Optional<Kept> read(String sql, UUID id) {
        return jdbc.sql(sql)
                .param(Tenancy.require())
                .param(id)
                .query((row, n) -> new Kept(row.getBoolean("photo"), row.getBytes("content")))
                .optional();
    }

    private void store(UUID id, String kind, byte[] content, byte @Nullable [] small) {
        jdbc.sql("insert into picture (id, kind, content, small) values (:id, :kind, :content, :small)")
                .param("id", id)
                .param("kind", kind)
                .param("content", content)
                .param("small", small, java.sql.Types.BINARY)
                .update();
    }

    private static boolean isPaper(byte[] upload) {
        byte[] mark = "%PDF-".getBytes(StandardCharsets.US_ASCII);
        return upload.length > mark.length && Arrays.equals(upload, 0, mark.length, mark, 0, mark.length);
    }

    /** Reads every n-th point only where the picture is large, so that a 50-megapixel photo does not fill the heap. */
    private static BufferedImage upright(byte[] upload) {
        try (ImageInputStream in = ImageIO.createImageInputStream(new ByteArrayInputStream(upload))) {
            Iterator<ImageReader> readers = ImageIO.getImageReaders(in);
            if (!readers.hasNext()) {
                throw new Refused("platform.picture.unreadable");
            }
            ImageReader reader = readers.next();
            try {
                reader.setInput(in);
                long points = (long) reader.getWidth(0) * reader.getHeight(0);
                if (points > MOST_POINTS) {
                    throw new Refused("platform.picture.too-many-points", points / 1_000_000, MOST_POINTS / 1_000_000);
                }
                int step = Math.max(1, Math.max(reader.getWidth(0), reader.getHeight(0)) / (2 * LONGEST) + 1);
                ImageReadParam every = reader.getDefaultReadParam();
                every.setSourceSubsampling(step, step, 0, 0);
                BufferedImage read = reader.read(0, every);
                Orientation held = orientation(reader);
                BufferedImage opaque = new BufferedImage(read.getWidth(), read.getHeight(), BufferedImage.TYPE_INT_RGB);
                var pen = opaque.createGraphics();
                pen.drawImage(read, 0, 0, java.awt.Color.WHITE, null);
                pen.dispose();
                return ExifFilterUtils.getFilterForOrientation(held).apply(opaque);
            } finally {
                reader.dispose();
            }
        } catch (IOException | RuntimeException broken) {
            if (broken instanceof Refused refused) {
                throw refused;
            }
            throw new Refused("platform.picture.unreadable");
        }
    }

    private static Orientation orientation(ImageReader reader) {
        try {
            Orientation held = ExifUtils.getExifOrientation(reader, 0);
            return held == null ? Orientation.TOP_LEFT : held;
        } catch (IOException | RuntimeException none) {
            return Orientation.TOP_LEFT;
        }
    }

    private static byte[] jpeg(BufferedImage photo, int longest) {
        int size = Math.min(longest, Math.max(photo.getWidth(), photo.getHeight()));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            Thumbnails.of(photo)
                    .size(size, size)
                    .outputFormat("jpg")
                    .outputQuality(0.85)
                    .toOutputStream(out);
        } catch (IOException | IllegalArgumentException unwritable) {
            throw new Refused("platform.picture.unreadable");
        }
        return out.toByteArray();
    }

    private static long megabytes(long bytes) {
        return Math.round(Math.ceil(bytes / 1048576.0));
    }
}
