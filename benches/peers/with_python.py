"""Runs the model on SimPy or Mesa: `with_python.py simpy|mesa FIRST SESSIONS`, with the output of `src/main.rs`."""

import random
import sys
from time import process_time

from model import DECISIONS_PER_S, SESSION_S, WALKERS, Walker


def run_simpy(session):
    """One process for each walker."""
    import simpy

    dice = random.Random(session)
    environment = simpy.Environment()
    counts = [0, 0]

    def live(walker, wait_s):
        while True:
            yield environment.timeout(wait_s)
            hit, wait_s = walker.decide(environment.now)
            counts[0] += 1
            counts[1] += hit

    for _ in range(WALKERS):
        environment.process(live(Walker(dice), dice.expovariate(DECISIONS_PER_S)))
    environment.run(until=SESSION_S)
    return counts


def run_mesa(session):
    """Steps of one second, which is Mesa's own way and its faster one; in a step, walkers make the decisions that are due."""
    import mesa

    class Agent(mesa.Agent):
        def __init__(self, model):
            super().__init__(model)
            self.walker = Walker(model.random)
            self.next_s = model.random.expovariate(DECISIONS_PER_S)

        def step(self):
            now_s = self.model.now_s
            while self.next_s <= now_s:
                hit, wait_s = self.walker.decide(self.next_s)
                self.model.decisions += 1
                self.model.hits += hit
                self.next_s += wait_s

    class Model(mesa.Model):
        def __init__(self):
            super().__init__(seed=session)
            self.now_s = 0.0
            self.decisions = self.hits = 0
            Agent.create_agents(self, WALKERS)

        def step(self):
            self.now_s += 1.0
            self.agents.shuffle_do("step")

    model = Model()
    for _ in range(int(SESSION_S)):
        model.step()
    return model.decisions, model.hits


if __name__ == "__main__":
    run_session = {"simpy": run_simpy, "mesa": run_mesa}[sys.argv[1]]
    first, sessions = int(sys.argv[2]), int(sys.argv[3])
    __import__(sys.argv[1])  # Loading it is not part of the time.
    for session in range(first, first + sessions):
        begins = process_time()
        decisions, hits = run_session(session)
        print(decisions, hits, f"{process_time() - begins:.6f}")
