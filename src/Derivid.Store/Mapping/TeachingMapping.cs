using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Mapping;

/// <summary>Maps courses and all that hangs on them.</summary>
internal static class TeachingMapping
{
    /// <summary>Maps them.</summary>
    /// <param name="model">The model.</param>
    public static void MapTeaching(this ModelBuilder model)
    {
        // Courses. A revision changed by somebody else makes a write fail.
        model.Entity<Course>(builder =>
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
            builder.Property(course => course.GraceMinutes).MayChange();
            builder.Property(course => course.CountsBest).MayChange();
            builder.Property(course => course.ShowsRanking).MayChange();
            builder.Property(course => course.HandOutNumber).MayChange();
            builder.Property(course => course.PublishedGradingId).MayChange();
            builder.Property(course => course.IsExamination).MayChange();
            builder.Property(course => course.IsPractice).MayChange();
            builder.Property(course => course.IsMarkedAnonymously).MayChange();
            builder.Property(course => course.IsLearnedFrom).MayChange();
            builder.Property(course => course.PublishedAtUtc).MayChange();
            builder.Property(course => course.ArchivedAtUtc).MayChange();
            builder.Property(course => course.DeletedAtUtc).MayChange();
        });

        // The students of courses. One caller is one student of a course.
        model.Entity<CourseStudent>(builder =>
        {
            builder.ToTable("course_students");
            builder.HasKey(student => new { student.CourseId, student.StudentKey });
            builder.HasOne<Course>().WithMany()
                .HasForeignKey(student => student.CourseId).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(student => new { student.CourseId, student.Actor }).IsUnique();
            builder.HasIndex(student => student.Actor);
            builder.Property(student => student.Bench).MayChange();
            builder.Property(student => student.Place).MayChange();
            builder.Property(student => student.Neighbours).MayChange();
            builder.Property(student => student.GroupName).MayChange();
            builder.Property(student => student.Actor).MayChange();
            builder.Property(student => student.DueAtUtc).MayChange();
            builder.Property(student => student.IsEnrolled).MayChange();
        });

        // Whoever rosters have ever named as which student: an examination asks for the caller first.
        model.Entity<CourseActor>(builder =>
        {
            builder.ToTable("course_actors");
            builder.HasKey(named => new { named.Actor, named.CourseId, named.StudentKey });
            builder.HasOne<CourseStudent>().WithMany()
                .HasForeignKey(named => new { named.CourseId, named.StudentKey }).OnDelete(DeleteBehavior.Restrict);
        });

        // The staff of courses.
        model.Entity<CourseStaff>(builder =>
        {
            builder.ToTable("course_staff");
            builder.HasKey(member => new { member.CourseId, member.Actor });
            builder.HasOne<Course>().WithMany()
                .HasForeignKey(member => member.CourseId).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(member => member.Actor);
            builder.Property(member => member.IsOwner).MayChange();
            builder.Property(member => member.IsServing).MayChange();
        });

        // Hand-outs of unknowns.
        model.Entity<StoredHandOut>(builder =>
        {
            builder.ToTable("hand_outs");
            builder.HasKey(handOut => new { handOut.CourseId, handOut.Number });
            builder.HasOne<Course>().WithMany().HasForeignKey(handOut => handOut.CourseId).OnDelete(DeleteBehavior.Restrict);
        });

        // The unknowns handed out. A code names one unknown of a hand-out, which the members of a group share.
        model.Entity<Assignment>(builder =>
        {
            builder.ToTable("assignments");
            builder.HasKey(row => new { row.CourseId, row.HandOutNumber, row.StudentKey, row.Number });
            builder.HasIndex(row => new { row.CourseId, row.HandOutNumber, row.HolderKey, row.Number });
            builder.HasOne<StoredHandOut>().WithMany()
                .HasForeignKey(row => new { row.CourseId, row.HandOutNumber }).OnDelete(DeleteBehavior.Restrict);
        });

        // Reports. Each attempt at an assignment is one report.
        model.Entity<CourseReport>(builder =>
        {
            builder.ToTable("course_reports");
            builder.HasKey(report => report.Id);
            builder.HasIndex(report => new
            {
                report.CourseId,
                report.HandOutNumber,
                report.StudentKey,
                report.Number,
                report.Attempt,
            }).IsUnique();
            builder.HasOne<Assignment>().WithMany()
                .HasForeignKey(report => new { report.CourseId, report.HandOutNumber, report.StudentKey, report.Number })
                .OnDelete(DeleteBehavior.Restrict);
            builder.Property(report => report.BodyJson).MayChange();
            builder.Property(report => report.HandedInAtUtc).MayChange();
            builder.Property(report => report.Revision).MayChange().IsConcurrencyToken();
        });

        // Gradings. Lease and end are all that changes.
        model.Entity<Grading>(builder =>
        {
            builder.ToTable("gradings");
            builder.HasKey(grading => grading.Id);
            builder.HasIndex(grading => grading.FinishedAtUtc);
            builder.HasOne<Course>().WithMany().HasForeignKey(grading => grading.CourseId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(grading => grading.LeasedUntilUtc).MayChange();
            builder.Property(grading => grading.FinishedAtUtc).MayChange();
        });

        // The reports of gradings.
        model.Entity<GradingEntry>(builder =>
        {
            builder.ToTable("grading_entries");
            builder.HasKey(item => new { item.GradingId, item.ReportId });
            builder.HasOne<Grading>().WithMany().HasForeignKey(item => item.GradingId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne<CourseReport>().WithMany().HasForeignKey(item => item.ReportId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(item => item.IsDone).MayChange();
            builder.Property(item => item.Problem).MayChange();
        });

        // Grades: one a report and basis.
        model.Entity<CourseGrade>(builder =>
        {
            builder.ToTable("course_grades");
            builder.HasKey(grade => new { grade.ReportId, grade.Basis });
            builder.HasOne<CourseReport>().WithMany().HasForeignKey(grade => grade.ReportId).OnDelete(DeleteBehavior.Restrict);
        });

        // What persons changed about grades.
        model.Entity<StoredModeration>(builder =>
        {
            builder.ToTable("moderations");
            builder.HasKey(moderation => moderation.Id);
            builder.HasIndex(moderation => new { moderation.CourseId, moderation.Id });
            builder.HasOne<Course>().WithMany().HasForeignKey(moderation => moderation.CourseId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne<CourseReport>().WithMany().HasForeignKey(moderation => moderation.ReportId).OnDelete(DeleteBehavior.Restrict);
        });
    }
}
