using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Puts reports and their grades into their wire form.</summary>
public static class GradeWire
{
    extension(ReportItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="report">The report.</param>
        /// <param name="shared">The unknowns kept under its student, as all have them who share them.</param>
        /// <param name="reader">The student who reads it, who is told nobody else's identifier. Missing: null, somebody of the staff does.</param>
        public static ReportItem Of(CourseReport report, IReadOnlyList<Assignment> shared, string? reader)
        {
            ArgumentNullException.ThrowIfNull(report);
            var body = ReportBody.Kept(report);
            List<Assignment> members = [.. shared.Where(row => row.Number == report.Number)];
            return new ReportItem
            {
                Id = report.Id,
                Student = reader ?? report.StudentKey,
                Group = members[0].GroupName,
                Members = reader is null && members.Count > 1 ? [.. members.Select(row => row.StudentKey)] : null,
                Assignment = members[0].Code,
                IsDraft = report.HandedInAtUtc is null,
                Number = report.Number,
                Attempt = report.Attempt,
                HandedInAt = report.HandedInAtUtc,
                Observation = body.Observation,
                ClaimedParent = body.ClaimedParent,
                ClaimedKind = body.ClaimedKind,
                Reasoning = body.Reasoning,
                Notes = body.Notes,
            };
        }
    }

    extension(GradingStatus)
    {
        /// <summary>Translates.</summary>
        /// <param name="grading">The grading.</param>
        /// <param name="done">Reports done.</param>
        public static GradingStatus Of(Grading grading, int done)
        {
            ArgumentNullException.ThrowIfNull(grading);
            return new GradingStatus(
                grading.Id,
                grading.FinishedAtUtc is null ? GradingState.Running : GradingState.Finished,
                done,
                grading.Total,
                grading.TableVersion,
                grading.ModelVersion,
                JsonElement.Parse(grading.RubricJson),
                grading.DueAtUtc,
                grading.CreatedAtUtc,
                grading.FinishedAtUtc)
            {
                GraceMinutes = grading.GraceMinutes,
                CountedAttempt = grading.CountsBest ? CountedAttempt.Best : CountedAttempt.Last,
                MissingCountsZero = grading.MissingCountsZero,
            };
        }
    }

    extension(GradeItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="graded">The report and its grade.</param>
        /// <param name="tellsIdentities">Whether identities may be told.</param>
        /// <param name="counts">Whether it counts; else another attempt does.</param>
        public static GradeItem Of(GradedReport graded, bool tellsIdentities, bool counts)
        {
            ArgumentNullException.ThrowIfNull(graded);
            var moderated = graded.Grade is { } kept ? ModeratedGrade.Of(ReportGrading.Kept(kept), graded.Moderations.Select(row => row.ToModeration())) : null;
            var grade = moderated?.Grade;
            return new GradeItem
            {
                Report = graded.Report.Id,
                Student = graded.Assignment.StudentKey,
                Number = graded.Report.Number,
                Code = graded.Assignment.Code,
                Attempt = graded.Report.Attempt,
                Counts = counts,
                Rubric = grade?.RubricName,
                TableVersion = grade?.TableVersion,
                ModelVersion = grade?.ModelVersion,
                MarkingRules = grade?.MarkingRules,
                Total = (double?)moderated?.Total,
                Maximum = (double?)moderated?.Maximum,
                Lines = moderated is null ? null : [.. moderated.Lines.Select(line => GradeLineItem.Of(line, tellsIdentities))],
                Comment = moderated?.Comment,
                Problem = tellsIdentities ? graded.Problem : graded.Problem is null ? null : StudentSentences.NotGraded(),
            };
        }
    }

    extension(GradeLineItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="line">The line.</param>
        /// <param name="tellsIdentities">Whether identities may be told.</param>
        public static GradeLineItem Of(ModeratedLine line, bool tellsIdentities)
        {
            ArgumentNullException.ThrowIfNull(line);
            var computed = line.Line;
            return new GradeLineItem(
                computed.Criterion,
                (double)line.Points,
                (double)line.Maximum,
                tellsIdentities || !computed.TellsIdentity ? line.Sentence : StudentSentences.Of(computed))
            {
                Moderation = line.Moderation is { } changed
                    ? new LineModeration((double)computed.Points, changed.Reason, tellsIdentities && line.IsOutdated)
                    : null,
                ByHand = (double?)computed.ByHand,
            };
        }
    }

    extension(ModerationItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="moderation">The moderation.</param>
        public static ModerationItem Of(StoredModeration moderation)
        {
            ArgumentNullException.ThrowIfNull(moderation);
            return new ModerationItem(
                moderation.Id, moderation.ReportId, moderation.GradingId, moderation.Criterion, moderation.Points, moderation.Reason, moderation.Computed,
                moderation.Actor, moderation.AtUtc)
            {
                Student = moderation.StudentKey,
            };
        }
    }

    extension(ComparisonItem)
    {
        /// <summary>Compares.</summary>
        /// <param name="report">The report.</param>
        /// <param name="before">Its first grade.</param>
        /// <param name="after">Its second grade.</param>
        public static ComparisonItem Of(CourseReport report, Grade before, Grade after)
        {
            ArgumentNullException.ThrowIfNull(report);
            var comparison = GradeComparison.Between(before, after);
            return new ComparisonItem(
                report.Id,
                report.StudentKey,
                (double)comparison.Before.Total,
                (double)comparison.After.Total,
                (double)comparison.TotalDifference,
                comparison.Causes,
                [.. comparison.Changes.Select(LineChangeItem.Of)]);
        }
    }

    extension(LineChangeItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="change">The change.</param>
        public static LineChangeItem Of(LineChange change)
        {
            ArgumentNullException.ThrowIfNull(change);
            return new LineChangeItem(change.Criterion, Line(change.Before), Line(change.After));
        }
    }

    private static GradeLineItem? Line(GradeLine? line) => line is null ? null : GradeLineItem.Of(new ModeratedLine(line, null), tellsIdentities: true);
}
