using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Puts courses and the unknowns handed out in them into their wire form.</summary>
public static class CourseWire
{
    extension(CourseItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="course">The course.</param>
        public static CourseItem Of(Course course)
        {
            ArgumentNullException.ThrowIfNull(course);
            return OpenToStudents(course) with
            {
                TakesBoilingPoint = course.TakesBoilingPoint,
                TakesMeltingPoint = course.TakesMeltingPoint,
                WindowCelsius = course.WindowCelsius,
                HandOut = course.HandOutNumber > 0 ? course.HandOutNumber : null,
                PublishedGrading = course.PublishedGradingId,
                CreatedAt = course.CreatedAtUtc,
            };
        }

        /// <summary>Translates for a student, who is not told what helps with the unknowns.</summary>
        /// <param name="course">The course.</param>
        /// <param name="student">The student.</param>
        /// <param name="ownDueAtUtc">When their reports are due, if they or others of their group have longer. Units: UTC. Missing: null.</param>
        public static CourseItem Of(Course course, string student, DateTime? ownDueAtUtc)
        {
            ArgumentNullException.ThrowIfNull(course);
            return OpenToStudents(course) with
            {
                Student = student,
                ExtendedTo = ownDueAtUtc > course.DueAtUtc ? ownDueAtUtc : null,
                AreGradesPublished = course.PublishedGradingId is not null,
            };
        }
    }

    extension(ShelfItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="item">What was found out.</param>
        public static ShelfItem Of(Identifiability item)
        {
            ArgumentNullException.ThrowIfNull(item);
            return new ShelfItem(
                item.ParentKey,
                item.IsIdentifiable,
                item.Posterior,
                item.Difficulty,
                item.ConfusedWith,
                item.SettledBy,
                item.Sentence);
        }
    }

    /// <param name="request">What was asked for.</param>
    extension(HandOutRequest request)
    {
        /// <summary>The rules with their defaults.</summary>
        public HandOutRules ToRules()
        {
            var usual = new HandOutRules();
            return new HandOutRules
            {
                UnknownsPerStudent = request.UnknownsPerStudent ?? usual.UnknownsPerStudent,
                LeastPosterior = request.LeastPosterior ?? usual.LeastPosterior,
                LargestDifficulty = request.LargestDifficulty ?? usual.LargestDifficulty,
                HandsOutUnidentifiable = request.HandsOutUnidentifiable ?? usual.HandsOutUnidentifiable,
            };
        }
    }

    extension(HandOutItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="handOut">The hand-out.</param>
        public static HandOutItem Of(StoredHandOut handOut)
        {
            ArgumentNullException.ThrowIfNull(handOut);
            return new HandOutItem(
                handOut.Number,
                handOut.Seed,
                handOut.TableVersion,
                handOut.ModelVersion,
                handOut.HandedOutAtUtc,
                JsonSerializer.Deserialize(handOut.SummaryJson, WireJson.Context.HandOutSummary)!);
        }
    }

    extension(HandOutSummary)
    {
        /// <summary>Translates.</summary>
        /// <param name="rules">The rules.</param>
        /// <param name="handOut">What came of them.</param>
        public static HandOutSummary Of(HandOutRules rules, HandOut handOut)
        {
            ArgumentNullException.ThrowIfNull(rules);
            ArgumentNullException.ThrowIfNull(handOut);
            return new HandOutSummary
            {
                UnknownsPerStudent = rules.UnknownsPerStudent,
                LeastPosterior = rules.LeastPosterior,
                LargestDifficulty = rules.LargestDifficulty,
                HandsOutUnidentifiable = rules.HandsOutUnidentifiable,
                Uses = handOut.Uses,
                LeftOut = handOut.LeftOut,
                EasiestTotal = handOut.EasiestTotal,
                HardestTotal = handOut.HardestTotal,
                Remarks = handOut.Remarks,
                Shelf = [.. handOut.Shelf.Select(ShelfItem.Of)],
            };
        }
    }

    private static CourseItem OpenToStudents(Course course) => new()
    {
        Id = course.Id,
        Name = course.Name,
        TableVersion = course.TableVersion,
        ShelfList = course.ShelfKeys,
        DerivativeKinds = course.KindKeys,
        SpotTests = course.SpotTestKeys,
        DueAt = course.DueAtUtc,
        ClosesAt = course.ClosesAtUtc,
        GraceMinutes = course.GraceMinutes,
        MostAttempts = course.MostAttempts,
        CountedAttempt = course.CountsBest ? CountedAttempt.Best : CountedAttempt.Last,
        ShowsRanking = course.ShowsRanking,
        Rubric = JsonElement.Parse(course.RubricJson),
        IsInvented = course.IsInvented,
        IsExamination = course.IsExamination,
        IsPractice = course.IsPractice,
        IsMarkedAnonymously = course.IsMarkedAnonymously,
        IsLearnedFrom = course.IsLearnedFrom,
        ArchivedAt = course.ArchivedAtUtc,
    };
}
