package org.rootling.weather.calc;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The water store under young vines, day by day: a bucket of soil around each vine by FAO-56 ({@link SoilBucket}, with
 * its timing rule), whose depth grows with the roots. Soil the roots newly reach is taken to be at field capacity.
 *
 * <p>FAO-56 gives coefficients for full vineyards; those of a first-year vine are settings here, and the defaults are a
 * rule of thumb without a source.
 */
public final class YoungVineWater {
    /** How far ahead a low day is looked for, days. */
    public static final int HORIZON = 180;

    private YoungVineWater() {}

    /**
     * The vines and their soil.
     *
     * @param planted day of planting; the bucket is full after watering in
     * @param fieldCapacity water content at field capacity, m³/m³
     * @param wiltingPoint water content at wilting point, m³/m³
     * @param areaM2 rooted and watered ground around one vine, m²
     * @param rootStartM rooting depth at planting, m
     * @param rootEndM rooting depth at the end of growing, m
     * @param rootDays days from planting until then
     * @param curve share of reference evapotranspiration that this ground uses, day 0 being the day of planting
     * @param p fraction of the total available water taken without stress
     */
    public record Stand(
            LocalDate planted,
            double fieldCapacity,
            double wiltingPoint,
            double areaM2,
            double rootStartM,
            double rootEndM,
            int rootDays,
            CropCurve curve,
            double p) {

        public Stand {
            if (!(fieldCapacity > wiltingPoint) || !(wiltingPoint >= 0) || !(fieldCapacity < 1)) {
                throw new IllegalArgumentException("soil must hold more at field capacity than at wilting point");
            }
            if (!(areaM2 > 0) || !(rootStartM > 0) || !(rootEndM >= rootStartM) || rootDays < 1) {
                throw new IllegalArgumentException("area and rooting depth must be above 0");
            }
            if (!(p > 0 && p < 1)) {
                throw new IllegalArgumentException("p must lie between 0 and 1");
            }
        }

        /**
         * Usual figures for a vine in its first year on a soil: half a square metre, roots from 0.25 to 0.60 m in 150
         * days, use rising from 0.30 (FAO-56 Table 12, initial) to 0.45; rule of thumb, no source, but for the initial
         * value and p (Table 22).
         */
        public static Stand firstYear(LocalDate planted, SoilType soil) {
            return new Stand(
                    planted,
                    soil.fieldCapacity(),
                    soil.wiltingPoint(),
                    0.5,
                    0.25,
                    0.60,
                    150,
                    new CropCurve(30, 60, 60, 60, 0.30, 0.45, 0.30),
                    VineWater.DEPLETION_FRACTION);
        }

        double rootDepth(LocalDate day) {
            double grown = ChronoUnit.DAYS.between(planted, day) / (double) rootDays;
            return rootStartM + Math.max(0, Math.min(1, grown)) * (rootEndM - rootStartM);
        }

        double totalMm(LocalDate day) {
            return SoilBucket.totalAvailableMm(fieldCapacity, wiltingPoint, rootDepth(day));
        }

        double demandMm(LocalDate day, double et0Mm) {
            return curve.on(Math.toIntExact(ChronoUnit.DAYS.between(planted, day))) * et0Mm;
        }

        double litres(double mm) {
            return mm * areaM2;
        }
    }

    /** A watering: its day and how much each vine got, litres. */
    public record Watering(LocalDate date, double litresPerVine) {}

    /** What the low day rests on. */
    public enum Outlook {
        /** It is low already. */
        NOW,
        /** Forecast days. */
        FORECAST,
        /** The mean of the same days of earlier years. */
        NORMALS,
        /** It cannot be told: no days ahead are known, or it does not run low within half a year. */
        NONE
    }

    /**
     * The store on a day.
     *
     * @param totalMm total available water, mm
     * @param readyMm of it, what is had without stress, mm
     * @param depletionMm missing to field capacity at the start of the day, mm
     * @param stress how well the vines are supplied, 1 without stress, 0 at the wilting point
     * @param fillLitres litres that fill one vine's store
     * @param lowOn first day that begins with the ready water used up
     * @param unknownDays days since planting without a weather record, counted with the mean use of the known ones
     */
    public record Store(
            LocalDate on,
            double totalMm,
            double readyMm,
            double depletionMm,
            double stress,
            double fillLitres,
            @Nullable LocalDate lowOn,
            Outlook outlook,
            int unknownDays) {

        /** Used share of the ready water; above 1 under stress. */
        public double share() {
            return depletionMm / readyMm;
        }
    }

    /**
     * The store at the start of a day and the day it runs low if nothing is watered.
     *
     * @param days recorded and forecast days
     * @param normals usual days ahead, used where no forecast is
     */
    public static Store read(
            Stand stand,
            Collection<WeatherDay> days,
            Collection<WeatherDay> normals,
            Collection<Watering> waterings,
            LocalDate on) {
        Map<LocalDate, WeatherDay> byDate = byDate(days);
        Map<LocalDate, WeatherDay> usual = byDate(normals);
        double meanEt0 = days.stream()
                .filter(d -> !d.date().isBefore(stand.planted()) && d.date().isBefore(on))
                .mapToDouble(WeatherDay::et0Mm)
                .average()
                .orElse(0);
        int unknown = 0;
        double depletion = 0;
        for (LocalDate day = stand.planted(); day.isBefore(on); day = day.plusDays(1)) {
            WeatherDay weather = byDate.get(day);
            unknown += weather == null ? 1 : 0;
            depletion = after(
                    stand,
                    day,
                    depletion,
                    watered(stand, waterings, day) + (weather == null ? 0 : weather.rainMm()),
                    weather == null ? meanEt0 : weather.et0Mm());
        }
        depletion = Math.max(0, depletion - watered(stand, waterings, on));
        double total = stand.totalMm(on);
        LocalDate low = depletion >= stand.p() * total ? on : null;
        Outlook outlook = low == null ? Outlook.NONE : Outlook.NOW;
        double ahead = depletion;
        boolean foretold = true;
        for (int i = 0; low == null && i < HORIZON; i++) {
            LocalDate day = on.plusDays(i);
            WeatherDay weather = byDate.get(day);
            if (weather == null) {
                foretold = false;
                weather = usual.get(day);
            }
            if (weather == null) {
                break;
            }
            ahead = after(stand, day, ahead, weather.rainMm(), weather.et0Mm());
            if (ahead >= stand.p() * stand.totalMm(day.plusDays(1))) {
                low = day.plusDays(1);
                outlook = foretold ? Outlook.FORECAST : Outlook.NORMALS;
            }
        }
        return new Store(
                on,
                total,
                stand.p() * total,
                depletion,
                SoilBucket.stress(depletion, total, stand.p()),
                stand.litres(depletion),
                low,
                outlook,
                unknown);
    }

    private static Map<LocalDate, WeatherDay> byDate(Collection<WeatherDay> days) {
        Map<LocalDate, WeatherDay> byDate = new HashMap<>();
        days.forEach(d -> byDate.put(d.date(), d));
        return byDate;
    }

    private static double watered(Stand stand, Collection<Watering> waterings, LocalDate day) {
        return waterings.stream()
                        .filter(w -> w.date().equals(day))
                        .mapToDouble(Watering::litresPerVine)
                        .sum()
                / stand.areaM2();
    }

    private static double after(Stand stand, LocalDate day, double depletion, double waterMm, double et0Mm) {
        return SoilBucket.depletionAfter(depletion, stand.totalMm(day), stand.p(), waterMm, stand.demandMm(day, et0Mm));
    }

    /**
     * A day on which to water in a hot spell.
     *
     * @param litresPerVine what fills the store that day
     */
    public record Turn(LocalDate on, double litresPerVine) {}

    /**
     * Plans a hot, dry spell: water whenever the ready water would be used up by the next morning, each time to the
     * full.
     *
     * @param start the store on the spell's first day
     * @param et0Mm reference evapotranspiration of each of its days, mm
     * @param days its length, days
     */
    public static List<Turn> hotSpell(Stand stand, Store start, double et0Mm, int days) {
        List<Turn> turns = new ArrayList<>();
        double depletion = start.depletionMm();
        for (int i = 0; i < days; i++) {
            LocalDate day = start.on().plusDays(i);
            double ready = stand.p() * stand.totalMm(day);
            if (depletion > 0 && depletion + stand.demandMm(day, et0Mm) >= ready) {
                turns.add(new Turn(day, stand.litres(depletion)));
                depletion = 0;
            }
            depletion = after(stand, day, depletion, 0, et0Mm);
        }
        return turns;
    }

    /**
     * How to bring the water.
     *
     * @param litres in all
     * @param hoseMinutes minutes of a hose, null without its flow
     * @param tankLoads loads of a tank, whole, null without its size
     */
    public record Bringing(
            double litres,
            @Nullable Double hoseMinutes,
            @Nullable Integer tankLoads) {}

    /** What it takes to give each of so many vines so much. */
    public static Bringing bring(
            double litresPerVine, long vines, @Nullable Double hoseLitresPerMinute, @Nullable Double tankLitres) {
        double litres = litresPerVine * vines;
        return new Bringing(
                litres,
                hoseLitresPerMinute == null ? null : Double.valueOf(litres / hoseLitresPerMinute),
                tankLitres == null ? null : Integer.valueOf((int) Math.ceil(litres / tankLitres - 1e-9)));
    }
}
