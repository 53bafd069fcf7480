using Derivid.Store.Practice;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Mapping;

/// <summary>Maps what belongs to the bench.</summary>
internal static class PracticeMapping
{
    /// <summary>Maps it.</summary>
    /// <param name="model">The model.</param>
    public static void MapPractice(this ModelBuilder model)
    {
        // Registered thermometers.
        model.Entity<Thermometer>(builder =>
        {
            builder.ToTable("thermometers");
            builder.HasKey(thermometer => thermometer.Id);
            builder.HasIndex(thermometer => thermometer.Owner);
        });

        // Their calibrations.
        model.Entity<Calibration>(builder =>
        {
            builder.ToTable("calibrations");
            builder.HasKey(calibration => calibration.Id);
            builder.HasIndex(calibration => new { calibration.ThermometerId, calibration.MeltedAtUtc });
            builder.HasOne<Thermometer>().WithMany()
                .HasForeignKey(calibration => calibration.ThermometerId).OnDelete(DeleteBehavior.Restrict);
        });
    }
}
