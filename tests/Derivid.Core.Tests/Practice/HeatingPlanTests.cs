using Derivid.Core.Practice;

namespace Derivid.Core.Tests.Practice;

public sealed class HeatingPlanTests
{
    private static readonly HeatingStepKind[] Whole =
        [HeatingStepKind.FirstPass, HeatingStepKind.Cool, HeatingStepKind.Insert, HeatingStepKind.HeatQuickly, HeatingStepKind.Melt];

    /// <summary>
    /// By hand of what is printed: first pass at 10 (Biocyclopedia) to 15 °C/min (Garces), a fresh tube 20 °C below (Colorado), quickly to
    /// 10 °C below (Garces), 1 (Garces) to 2 °C/min (Colorado) through the range.
    /// </summary>
    [Fact]
    public void PlanOfAKnownRangeIsThatOfThePrintedFigures()
    {
        var plan = HeatingPlan.Expecting(new AmountSpan(124, 126), decomposes: false, reachCelsius: null);

        Assert.Equal(Whole, plan.Steps.Select(step => step.Kind));
        Assert.Equal([(20, 126), (126, 104), (104, 104), (104, 114), (114, 126)], plan.Steps.Select(step => ((int)step.FromCelsius!, (int)step.ToCelsius!)));
        Assert.Equal(new AmountSpan(10, 15), plan.Steps[0].CelsiusPerMinute);
        Assert.Equal(new AmountSpan(1, 2), plan.Steps[4].CelsiusPerMinute);
        Assert.Equal(new AmountSpan(6, 12), plan.Steps[4].Minutes);
        Assert.Equal(106 / 15.0, plan.Steps[0].Minutes.Low, 1e-9);
        Assert.Equal(plan.Steps.Sum(step => step.Minutes.High), plan.Minutes.High, 1e-9);
        Assert.Empty(plan.Cases);
        Assert.Contains("colorado-melting-point", plan.Steps[2].SourceKeys);
        Assert.All(plan.Steps, step => Assert.True(step.Why.Length > 0 && step.Text.EndsWith('.')));
    }

    /// <summary>21 CFR 436.209(c): put in 10 °C below, 3 ± 0.5 °C/min.</summary>
    [Fact]
    public void WhatDecomposesIsPutInHotAndHeatedFaster()
    {
        var plan = HeatingPlan.Expecting(new AmountSpan(237, 238), decomposes: true, reachCelsius: null);

        Assert.Equal([HeatingStepKind.FirstPass, HeatingStepKind.Cool, HeatingStepKind.Insert, HeatingStepKind.Melt], plan.Steps.Select(step => step.Kind));
        Assert.Equal(227, plan.Steps[2].FromCelsius);
        Assert.Equal(new AmountSpan(2.5, 3.5), plan.Steps[3].CelsiusPerMinute);
        Assert.Equal(["cfr-436-209"], plan.Steps[3].SourceKeys);
        Assert.Contains("dec.", plan.Steps[3].Text, StringComparison.Ordinal);
        Assert.Equal([ReadingCase.Hot, ReadingCase.Decomposes], plan.Cases);
    }

    [Fact]
    public void WhatMeltsLowIsBegunBelowIt()
    {
        var plan = HeatingPlan.Expecting(new AmountSpan(29, 31), decomposes: false, reachCelsius: null);

        Assert.Equal(9, plan.Steps[0].FromCelsius);
        Assert.Equal([ReadingCase.Low], plan.Cases);
    }

    [Fact]
    public void ALiquidIsNotHeated()
    {
        var plan = HeatingPlan.Expecting(new AmountSpan(-57, -56), decomposes: false, reachCelsius: null);

        Assert.Empty(plan.Steps);
        Assert.Equal(new AmountSpan(0, 0), plan.Minutes);
        Assert.Equal([ReadingCase.Liquid], plan.Cases);
    }

    [Theory]
    [InlineData(300, 5, 300)]
    [InlineData(280, 5, 280)]
    [InlineData(270, 4, 270)]
    [InlineData(100, 1, 100)]
    public void NothingGoesBeyondWhereBathOrThermometerEnd(double reach, int steps, double highest)
    {
        var plan = HeatingPlan.Expecting(new AmountSpan(285, 301), decomposes: false, reach);

        Assert.Equal(steps, plan.Steps.Count);
        Assert.All(plan.Steps, step => Assert.True(step.FromCelsius <= reach && step.ToCelsius <= reach));
        Assert.Equal(highest, plan.Steps.Max(step => step.ToCelsius));
        Assert.Contains(ReadingCase.OutOfReach, plan.Cases);
        Assert.Contains("where bath or thermometer end", plan.Steps[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void WithinReachNothingIsSaidOfIt() =>
        Assert.DoesNotContain(ReadingCase.OutOfReach, HeatingPlan.Expecting(new AmountSpan(124, 126), false, 126).Cases);

    [Fact]
    public void WhatMayMeltAnywhereIsLookedForFirst()
    {
        var plan = HeatingPlan.Searching(new AmountSpan(80, 305), decomposes: false, reachCelsius: 250);

        Assert.Equal(Whole, plan.Steps.Select(step => step.Kind));
        Assert.Equal((20, 250), (plan.Steps[0].FromCelsius, plan.Steps[0].ToCelsius));
        Assert.All(plan.Steps.Skip(1), step => Assert.Null(step.FromCelsius));
        Assert.Equal([ReadingCase.Unknown, ReadingCase.OutOfReach, ReadingCase.Hot], plan.Cases);
        Assert.Equal(new AmountSpan(6, 12), plan.Steps[4].Minutes);
        Assert.Contains("20 °C below what the first pass showed", plan.Steps[1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatMayMeltAnywhereAndDecomposesIsPutInHotToo()
    {
        var plan = HeatingPlan.Searching(new AmountSpan(80, 305), decomposes: true, reachCelsius: null);

        Assert.Equal([HeatingStepKind.FirstPass, HeatingStepKind.Cool, HeatingStepKind.Insert, HeatingStepKind.Melt], plan.Steps.Select(step => step.Kind));
        Assert.Contains("10 °C below what the first pass showed", plan.Steps[1].Text, StringComparison.Ordinal);
        Assert.Contains(ReadingCase.Decomposes, plan.Cases);
    }

    [Fact]
    public void NoStepTakesLessThanNothing()
    {
        for (var onset = -100; onset < 400; onset += 7)
        {
            foreach (var decomposes in new[] { false, true })
            {
                foreach (var reach in new double?[] { null, 50, 150, 260 })
                {
                    var plan = HeatingPlan.Expecting(new AmountSpan(onset, onset + 3), decomposes, reach);
                    Assert.All(plan.Steps, step => Assert.True(step.Minutes.Low >= 0 && step.Minutes.High >= step.Minutes.Low, $"{onset} {step.Kind}"));
                }
            }
        }
    }
}
