package org.rootling.work.domain;

import java.sql.Timestamp;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Pictures;
import org.rootling.platform.Refused;
import org.rootling.work.FieldLog;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.web.multipart.MultipartFile;

/** Photos of entries from the field; each is taken exactly once, after its entry. */
@Service
@Transactional
public class EntryPhotos {
    private final FieldLog log;
    private final Pictures pictures;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;

    EntryPhotos(FieldLog log, Pictures pictures, Vineyards vineyards, JdbcClient jdbc) {
        this.log = log;
        this.pictures = pictures;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
    }

    /**
     * Adds a photo to an entry that is a log or a conflict.
     *
     * @param photo its own id, made where it was taken
     * @return whether it is new
     * @throws org.rootling.platform.Refused if it is no picture or too large
     */
    public boolean add(UUID entry, UUID photo, MultipartFile file, UUID by) {
        boolean known = jdbc.sql("select exists (select 1 from task_log where id = :id)"
                        + " or exists (select 1 from log_conflict where id = :id)")
                .param("id", entry)
                .query(Boolean.class)
                .single();
        if (!known) {
            throw new NotFound("entry");
        }
        // Two phones with the same photo wait for each other here.
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended(:photo, 7))")
                .param("photo", photo.toString())
                .query((r, n) -> n)
                .list();
        boolean there = jdbc.sql("select exists (select 1 from entry_photo where id = :id)")
                .param("id", photo)
                .query(Boolean.class)
                .single();
        if (there) {
            return false;
        }
        keep(entry, photo, pictures.keep(file), by);
        return true;
    }

    /** Takes an entry from a page together with its photo, both or neither. */
    public void take(FieldLog.Entry entry, MultipartFile file, UUID by) {
        // Kept first: a picture that cannot be read leaves no log behind.
        UUID picture;
        try {
            picture = pictures.keep(file);
        } catch (Refused refused) {
            throw refused.at("photo");
        }
        log.take(entry, by);
        keep(entry.id(), Ids.next(), picture, by);
    }

    private void keep(UUID entry, UUID photo, UUID picture, UUID by) {
        jdbc.sql("insert into entry_photo (id, entry_id, picture_id, by_account, taken_at)"
                        + " values (:id, :entry, :picture, :by, :at)")
                .param("id", photo)
                .param("entry", entry)
                .param("picture", picture)
                .param("by", by)
                .param("at", Timestamp.from(vineyards.now()))
                .update();
    }

    /** Pictures of entries, in the order in which they came. */
    @Transactional(readOnly = true)
    public Map<UUID, List<UUID>> of(Collection<UUID> entries) {
        Map<UUID, List<UUID>> photos = new HashMap<>();
        if (!entries.isEmpty()) {
            jdbc.sql("select entry_id, picture_id from entry_photo where entry_id = any(:ids) order by taken_at, id")
                    .param("ids", entries.toArray(UUID[]::new))
                    .query((r, n) -> photos.computeIfAbsent(r.getObject("entry_id", UUID.class), k -> new ArrayList<>())
                            .add(r.getObject("picture_id", UUID.class)))
                    .list();
        }
        return photos;
    }
}
