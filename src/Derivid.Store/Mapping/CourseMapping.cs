using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps courses. A revision changed by somebody else makes a write fail.</summary>
internal sealed class CourseMapping : IEntityTypeConfiguration<Course>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<Course> builder)
    {
        builder.ToTable("courses");
        builder.HasKey(course => course.Id);
        builder.HasOne<TableVersion>().WithMany()
            .HasForeignKey(course => course.TableVersion).OnDelete(DeleteBehavior.Restrict);
        builder.Property(course => course.Revision).MayChange().IsConcurrencyToken();
        builder.Property(course => course.Name).MayChange();
        builder.Property(course => course.TableVersion).MayChange();
        builder.Property(course => course.ShelfKeys).MayChange();
        builder.Property(course => course.KindKeys).MayChange();
        builder.Property(course => course.SpotTestKeys).MayChange();
        builder.Property(course => course.TakesBoilingPoint).MayChange();
        builder.Property(course => course.TakesMeltingPoint).MayChange();
        builder.Property(course => course.WindowCelsius).MayChange();
        builder.Property(course => course.RubricJson).MayChange();
        builder.Property(course => course.DueAtUtc).MayChange();
        builder.Property(course => course.ClosesAtUtc).MayChange();
        builder.Property(course => course.MostAttempts).MayChange();
        builder.Property(course => course.ShowsRanking).MayChange();
        builder.Property(course => course.HandOutNumber).MayChange();
        builder.Property(course => course.PublishedGradingId).MayChange();
        builder.Property(course => course.IsExamination).MayChange();
    }
}
